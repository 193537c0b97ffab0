// validate: judges Retap on simulated patients whose truth is known. See usage().
#include "aside_file.hpp"
#include "validate/options.hpp"
#include "validate/page.hpp"
#include "validate/pair_numbers.hpp"
#include "validate/study.hpp"
#include "validate/text_table.hpp"

#include <chrono>
#include <exception>
#include <iostream>
#include <stdexcept>
#include <string>
#include <vector>

namespace {

using namespace retap::validate;

void run(const Options& options) {
    const auto start = std::chrono::steady_clock::now();
    const Results results = study_all(options);
    if (!options.pairs_csv.empty()) {
        retap::write_file_whole(options.pairs_csv, pairs_csv(results.pairs));
    }
    const std::vector<Section> sections = sections_of(options, results);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    std::cout << "Simulated bites, patients " << options.seed << " to " << options.seed + options.patients - 1 << ".\n";
    for (const Section& section : sections) {
        std::cout << "\n## " << section.title << "\n\n" << section.text;
    }
    std::cout << "\nTook " << fixed(took.count(), 0) << " s.\n";
    if (!options.out.empty()) {
        write_page(options, sections, took.count());
        std::cout << "\nPage, plots and numbers: " << (options.out / "README.md").string() << "\n";
    }
    if (!std::cout.flush()) {
        throw std::runtime_error("Cannot write the result.");
    }
}

} // namespace

int main(int argc, char** argv) {
    Options options;
    try {
        options = read_options({argv + 1, argv + argc});
    } catch (const std::exception& e) {
        std::cerr << "validate: " << e.what() << "\n" << usage();
        return 2;
    }
    try {
        run(options);
    } catch (const std::exception& e) {
        std::cerr << "validate: " << e.what() << "\n";
        return 1;
    }
    return 0;
}
