// Benchmarks of a store that years of visits have filled.
#include "chart/notation.hpp"
#include "visit/sqlite_store.hpp"
#include "work_folder.hpp"

#include <benchmark/benchmark.h>
#include <memory>
#include <string>

namespace {

using namespace retap;

constexpr int many = 10000;

/// A store with `many` invented visits in a folder of its own, made once.
class FullStore {
public:
    FullStore() {
        store_ = std::make_unique<visit::SqliteStore>(folder_.path() / "visits.db");
        for (int i = 0; i < many; ++i) {
            visit::Opened opened;
            opened.label = "C-" + std::to_string(1000 + i);
            opened.procedure = i % 3 == 0 ? "composite, occlusal" : "crown";
            opened.treated = chart::read_teeth(i % 2 == 0 ? "16" : "36", chart::Numbering::iso);
            opened.worker = "A. Student";
            opened.supervisor = "B. Teacher";
            store_->open_visit({"2031-05-14T08:30:00Z", "A. Student"}, opened);
        }
    }
    [[nodiscard]] visit::SqliteStore& store() { return *store_; }

private:
    tools::WorkFolder folder_;
    std::unique_ptr<visit::SqliteStore> store_;
};

visit::SqliteStore& full_store() {
    static FullStore full;
    return full.store();
}

void list_newest_of_10000_visits(benchmark::State& state) {
    visit::SqliteStore& store = full_store();
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(store.list({.limit = 50}));
    }
}
BENCHMARK(list_newest_of_10000_visits)->Unit(benchmark::kMillisecond);

void search_10000_visits(benchmark::State& state) {
    visit::SqliteStore& store = full_store();
    while (state.KeepRunning()) {
        benchmark::DoNotOptimize(store.list({.text = "c-7777"}));
    }
}
BENCHMARK(search_10000_visits)->Unit(benchmark::kMillisecond);

} // namespace
