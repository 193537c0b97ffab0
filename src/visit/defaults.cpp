#include "visit/defaults.hpp"

#include "aside_file.hpp"
#include "audio/key_lines.hpp"
#include "error.hpp"
#include "visit/text_check.hpp"

#include <cstdlib>
#include <fstream>
#include <iterator>
#include <system_error>

namespace retap::visit {

namespace fs = std::filesystem;

std::optional<fs::path> defaults_file() {
    const auto setting = [](const char* name) {
        const char* value = std::getenv(name);
        return fs::path(value == nullptr ? "" : value);
    };
    if (const fs::path config = setting("XDG_CONFIG_HOME"); config.is_absolute()) {
        return config / "retap" / "visits";
    }
    if (const fs::path home = setting("HOME"); home.is_absolute()) {
        return home / ".config" / "retap" / "visits";
    }
    return std::nullopt;
}

Defaults read_defaults(const fs::path& file) {
    std::error_code not_to_be_seen;
    if (!fs::exists(file, not_to_be_seen)) {
        return {};
    }
    std::ifstream in(file, std::ios::binary);
    const audio::KeyLines lines = audio::read_key_lines(std::string(std::istreambuf_iterator<char>(in), {}));
    if (!in) {
        throw InputError("Cannot read the defaults in '" + file.string() + "'. Check the file, or take it away.");
    }
    Defaults defaults{.worker = audio::value_of(lines, "worker"), .supervisor = audio::value_of(lines, "supervisor")};
    if (const std::string word = audio::value_of(lines, "numbering"); !word.empty()) {
        defaults.numbering = chart::numbering_from(word);
        if (!defaults.numbering) {
            throw InputError("The defaults in '" + file.string() + "' name the numbering '" + word +
                             "'. Give iso or universal: retap visit defaults --numbering iso");
        }
    }
    return defaults;
}

void write_defaults(const fs::path& file, const Defaults& defaults) {
    for (const std::string& text : {defaults.worker, defaults.supervisor}) {
        check_text(text, "the defaults");
        if (text.find('\n') != std::string::npos) {
            throw InputError("A name is one line. Type it again.");
        }
    }
    audio::KeyLines lines;
    const auto add = [&lines](const char* name, const std::string& value) {
        if (!value.empty()) {
            lines.emplace_back(name, value);
        }
    };
    add("worker", defaults.worker);
    add("supervisor", defaults.supervisor);
    add("numbering", defaults.numbering ? std::string(chart::word(*defaults.numbering)) : std::string());
    std::error_code fault;
    fs::create_directories(file.parent_path(), fault);
    if (fault) {
        throw InputError("Cannot keep the defaults in '" + file.string() + "': " + fault.message() + ".");
    }
    write_file_whole(file, audio::write_key_lines(lines));
}

} // namespace retap::visit
