"""Words and figures on parts and papers judged: what each must say, worked out by the proof."""
