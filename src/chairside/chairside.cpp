namespace retap::chairside {}
