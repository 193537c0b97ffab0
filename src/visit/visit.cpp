namespace retap::visit {}
