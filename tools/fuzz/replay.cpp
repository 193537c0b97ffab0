// Gives files to a fuzz target, as a test that nothing of them is a fault any more:
//   replay_TARGET SEEDS [FOUND]...
// SEEDS, a folder or file, must hold something; the others may be missing, as long as nothing was found.
#include "target.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <iterator>
#include <vector>

int main(int argc, char** argv) {
    namespace fs = std::filesystem;
    if (argc < 2) {
        std::cerr << "usage: replay_TARGET SEEDS [FOUND]...\n";
        return 2;
    }
    std::vector<fs::path> files;
    for (int i = 1; i < argc; ++i) {
        if (fs::is_directory(argv[i])) {
            for (const auto& entry : fs::directory_iterator(argv[i])) {
                files.push_back(entry.path());
            }
        } else if (i == 1 || fs::exists(argv[i])) {
            files.emplace_back(argv[i]);
        }
        if (files.empty()) {
            std::cerr << "nothing to replay in " << argv[i] << '\n';
            return 1;
        }
    }
    std::sort(files.begin(), files.end());
    for (const fs::path& file : files) {
        std::ifstream in(file, std::ios::binary);
        if (!in) {
            std::cerr << file << " cannot be read\n";
            return 1;
        }
        const std::vector<char> bytes{std::istreambuf_iterator<char>(in), {}};
        std::cout << file.filename().string() << ", " << bytes.size() << " bytes" << std::endl; // the last is the fault
        LLVMFuzzerTestOneInput(reinterpret_cast<const std::uint8_t*>(bytes.data()), bytes.size());
    }
    return 0;
}
