// A visit that comes from another computer as a file, up to a store that takes it in.
#include "error.hpp"
#include "report/visit_json.hpp"
#include "target.hpp"
#include "visit/sqlite_store.hpp"

#include <filesystem>
#include <memory>

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using namespace retap;
    constexpr int runs_of_a_store = 500;
    static int runs = 0;
    static std::unique_ptr<visit::SqliteStore> store;
    if (runs++ % runs_of_a_store == 0) {
        store = nullptr;
        const auto folder = fuzz::scratch() / "store";
        std::filesystem::remove_all(folder);
        std::filesystem::create_directory(folder);
        store = std::make_unique<visit::SqliteStore>(folder / "visits.db");
    }
    try {
        const visit::Parcel parcel = report::parcel_from(fuzz::text_of(data, size), "input");
        const visit::VisitId id = store->unpack(parcel);
        fuzz::must(store->verify(id).empty(), "what was taken in is whole");
        static_cast<void>(report::export_json(store->load(id), store->pack(id)));
    } catch (const Error&) { // the answer to what is no visit, or none that is whole
    }
    return 0;
}
