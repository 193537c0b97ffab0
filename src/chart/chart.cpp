namespace retap::chart {}
