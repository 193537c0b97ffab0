#include "visit/defaults.hpp"

#include "error.hpp"
#include "temp_folder.hpp"

#include <doctest/doctest.h>

using namespace retap;
using namespace retap::visit;

TEST_CASE("defaults are read back as they were written, and none are there before") {
    const test::TempFolder folder;
    const auto file = folder / "retap" / "visits";
    CHECK(read_defaults(file) == Defaults{});
    const Defaults usual{
        .worker = "A. Student: 3", .supervisor = "B. Teacher", .numbering = chart::Numbering::universal};
    write_defaults(file, usual);
    CHECK(read_defaults(file) == usual);
    write_defaults(file, {});
    CHECK(read_defaults(file) == Defaults{});
}

TEST_CASE("what is no numbering or no line is refused, and the file stays as it was") {
    const test::TempFolder folder;
    const auto file = folder / "visits";
    test::put_bytes(file, "numbering: roman\nworker: A\n");
    CHECK_THROWS_WITH_AS((void)read_defaults(file), doctest::Contains("'roman'"), InputError);
    CHECK_THROWS_AS(write_defaults(file, {.worker = "A\nnumbering: iso"}), InputError);
    CHECK(test::bytes_of(file) == "numbering: roman\nworker: A\n");
    test::put_bytes(file, "worker: A\nlater: thing\n");
    CHECK(read_defaults(file).worker == "A");
}
