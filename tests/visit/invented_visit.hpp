// Invented visits for the tests of visit, report and commands.
#pragma once

#include "chart/notation.hpp"
#include "visit/store.hpp"

#include <string>
#include <string_view>

namespace retap::test {

inline const visit::Stamp morning{"2031-05-14T08:30:00Z", "A. Student"};

inline visit::Stamp at(int minute, std::string by = "A. Student") {
    return {"2031-05-14T09:" + std::string(minute < 10 ? "0" : "") + std::to_string(minute) + ":00Z", std::move(by)};
}

inline visit::Opened filling_on_16() {
    visit::Opened opened;
    opened.label = "C-1042";
    opened.procedure = "composite, occlusal";
    opened.treated = chart::read_teeth("16", chart::Numbering::iso);
    opened.worker = "A. Student";
    opened.supervisor = "B. Teacher";
    return opened;
}

inline constexpr visit::LookName before{visit::LookKind::before, 1};
inline constexpr visit::LookName after{visit::LookKind::after, 1};
inline constexpr visit::LookName after2{visit::LookKind::after, 2};

inline visit::NewEntry holds(visit::LookName look, std::string_view text, visit::Stamp stamp = morning) {
    return {std::move(stamp), look, {}, visit::HoldsCharted{chart::read_holds(text, chart::Numbering::iso)}};
}

inline visit::NewEntry marks(visit::LookName look, std::string_view text, visit::Stamp stamp = morning) {
    return {std::move(stamp), look, {}, visit::MarksCharted{chart::read_marks(text, chart::Numbering::iso)}};
}

inline visit::NewEntry feel(visit::LookName look, std::optional<bool> numb, chart::Feel feel, std::string words = "") {
    return {morning, look, {}, visit::FeelNoted{numb, feel, std::move(words)}};
}

inline visit::NewEntry signature(std::string by = "B. Teacher") {
    return {{"2031-05-14T10:00:00Z", std::move(by)}, {}, {}, visit::Signed{"supervising dentist", "Seen and agreed."}};
}

inline visit::NewEntry correcting(int of, visit::NewEntry with, std::string reason = "typed wrongly") {
    with.correction = visit::Correction{of, std::move(reason)};
    return with;
}

/// Bytes that stand for a FLAC file, all 256 values and zeros among them.
inline visit::TakeContent invented_take_content(int seed = 0, std::size_t size = 3000) {
    visit::TakeContent content;
    for (std::size_t i = 0; i < size; ++i) {
        content.flac.push_back(static_cast<std::byte>((i * 7 + static_cast<std::size_t>(seed)) % 256));
    }
    content.analysis = "{\"format\": \"retap.take/1\", \"seed\": " + std::to_string(seed) + "}";
    content.settings = "{}";
    return content;
}

inline visit::TakeKept take_named(std::string name) {
    visit::TakeKept take;
    take.name = std::move(name);
    take.program = "Retap test";
    return take;
}

} // namespace retap::test
