"""The set-up sheets: one page for each operation, from stock to the finished trestle, to hang beside the machine."""
