"""Words and figures on parts and papers, held against what the proof works out that each must say."""
