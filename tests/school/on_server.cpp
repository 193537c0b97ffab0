#include "server.hpp"
#include "visit/open_store.hpp"
#include "visit/stores.hpp"

namespace retap::test {

struct Stores::Parts {
    TestServer server;
};

Stores::Stores() : parts_(std::make_unique<Parts>()) {}
Stores::~Stores() = default;

bool Stores::there() const {
    return parts_->server.there();
}

std::unique_ptr<visit::VisitStore> Stores::open(const std::string& name) {
    return visit::open_store(parts_->server.clinic(name));
}

} // namespace retap::test
