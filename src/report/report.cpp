namespace retap::report {}
