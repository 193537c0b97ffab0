#include "chairside/left_takes.hpp"

#include "audio/unfinished.hpp"
#include "error.hpp"

#include <algorithm>
#include <cstdio>
#include <fstream>
#include <string_view>
#include <system_error>

namespace retap::chairside {

namespace fs = std::filesystem;

namespace {

constexpr std::string_view unwanted = ".unwanted";

/// Names of what the folder holds, by name; none when there is no folder.
std::vector<fs::path> files_in(const fs::path& folder) {
    std::vector<fs::path> files;
    std::error_code none;
    for (const auto& entry : fs::directory_iterator(folder, none)) {
        std::error_code gone;
        if (entry.symlink_status(gone).type() == fs::file_type::regular) {
            files.push_back(entry.path());
        }
    }
    std::sort(files.begin(), files.end());
    return files;
}

void remove_or_say(const fs::path& file) {
    std::error_code fault;
    fs::remove(file, fault);
    if (fault) {
        throw StoreError("Removing the recording '" + file.string() + "': " + fault.message() +
                         ". Remove it by hand; it is health data.");
    }
}

} // namespace

fs::path take_folder(const fs::path& store) {
    return store.string() + ".takes";
}

std::string take_file_name(visit::VisitId visit, const visit::LookName& look, Moment now) {
    std::string at = utc_text(now);
    std::erase_if(at, [](char c) { return c == '-' || c == ':'; });
    return "visit-" + std::to_string(visit) + "-" + visit::text(look) + "-" + at + ".flac";
}

std::optional<Belongs> belongs(const fs::path& file) {
    const std::string name = file.filename().string();
    long long visit = 0;
    int from = 0;
    int to = 0;
    // NOLINTNEXTLINE(cert-err34-c): the fields read and the form tell whether it fits
    if (std::sscanf(name.c_str(), "visit-%18lld-%n%*[a-z0-9]%n-", &visit, &from, &to) < 1 || to <= from) {
        return std::nullopt;
    }
    const auto look = visit::look_from(
        std::string_view(name).substr(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from)));
    return look ? std::optional(Belongs{visit, *look}) : std::nullopt;
}

std::vector<fs::path> left_takes(const fs::path& folder) {
    std::vector<fs::path> takes = files_in(folder);
    std::erase_if(takes, [](const fs::path& file) { return file.extension() != ".flac" || !belongs(file); });
    return takes;
}

void mark_unwanted(const fs::path& file) {
    const std::ofstream mark(file.string() + std::string(unwanted)); // without it only a kill is the worse
}

void remove_unwanted(const fs::path& folder) {
    for (const fs::path& mark : files_in(folder)) {
        if (mark.extension() != unwanted || !belongs(mark)) {
            continue;
        }
        const fs::path take = fs::path(mark).replace_extension();
        audio::drop_unfinished(folder, [&](const fs::path& destination) { return destination == take; });
        std::error_code ignored;
        fs::remove(take, ignored);
        fs::remove(mark, ignored); // last, so that a kill in between changes nothing
    }
}

std::size_t remove_takes_of(const fs::path& folder, visit::VisitId visit) {
    const auto is_its = [&](const fs::path& file) {
        std::string name = file.filename().string();
        name.erase(0, name.starts_with('.') ? 1 : 0); // half-written
        const auto where = belongs(name);
        return where && where->visit == visit;
    };
    std::size_t removed = audio::drop_unfinished(folder, is_its);
    for (const fs::path& file : files_in(folder)) {
        if (is_its(file)) {
            remove_or_say(file);
            ++removed;
        }
    }
    return removed;
}

} // namespace retap::chairside
