namespace retap::bite {}
