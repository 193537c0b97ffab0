namespace retap::audio {}
