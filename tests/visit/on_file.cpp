#include "stores.hpp"

#include "temp_folder.hpp"
#include "visit/sqlite_store.hpp"

namespace retap::test {

struct Stores::Parts {
    TempFolder folder;
};

Stores::Stores() : parts_(std::make_unique<Parts>()) {}
Stores::~Stores() = default;

bool Stores::there() const {
    return true;
}

std::unique_ptr<visit::VisitStore> Stores::open(const std::string& name) {
    return std::make_unique<visit::SqliteStore>(parts_->folder / (name + ".db"));
}

} // namespace retap::test
