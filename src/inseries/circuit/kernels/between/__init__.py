"""What lies between chambers: the septum they share and the sac around them."""
