"""What is said of the next tests of a device: the sessions in order, the statements with what they lack."""
