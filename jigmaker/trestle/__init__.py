"""What it comes to: legs, top, brace and housings solved from a job, with every angle and length."""
