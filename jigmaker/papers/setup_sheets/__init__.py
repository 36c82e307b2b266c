"""The set-up sheets: one page for each operation from stock to the finished trestle, for the wall beside the machine."""
