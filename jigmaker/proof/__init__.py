"""The proof: reads back what was written, cuts and routs it in numbers, and says whether the legs will fit."""
