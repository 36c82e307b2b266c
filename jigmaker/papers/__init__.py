"""What is read and not cut: pictures and pages about a kit."""
