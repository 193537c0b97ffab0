#include "take_file.hpp"

#include <ostream>
#include <sstream>
#include <vector>

namespace retap::tools {

namespace {

void put_contact(std::ostream& out, const bite::ContactEvent& c) {
    out << (out.tellp() > 0 ? "," : "") << R"({"pair":)" << c.pair << R"(,"point":)" << c.point << R"(,"share":)"
        << c.share << R"(,"at_s":)" << c.at_s << R"(,"speed":)" << c.speed_m_per_s << R"(,"force":)" << c.peak_n
        << R"(,"impulse":)" << c.impulse_n_s << "}";
}

std::ostringstream precise() {
    std::ostringstream out;
    out.precision(9);
    return out;
}

std::string change_json(const bite::BiteChange& change) {
    if (change.heights.empty() && !change.slide) {
        return "null";
    }
    auto out = precise();
    out << R"({"heights":[)";
    for (std::size_t i = 0; i < change.heights.size(); ++i) {
        const auto& h = change.heights[i];
        out << (i > 0 ? "," : "") << R"({"pair":)" << h.pair << R"(,"upper_tooth":)" << bite::upper_tooth_iso(h.pair)
            << R"(,"height_um":)" << h.height_um << "}";
    }
    out << R"(],"slide":)";
    if (change.slide) {
        out << R"({"pair":)" << change.slide->pair << R"(,"upper_tooth":)" << bite::upper_tooth_iso(change.slide->pair)
            << R"(,"distance_um":)" << change.slide->distance_um << R"(,"incline_deg":)" << change.slide->incline_deg
            << "}";
    } else {
        out << "null";
    }
    out << "}";
    return out.str();
}

} // namespace

void write_take(const std::filesystem::path& path, const bite::Take& take, audio::SoundFormat format) {
    audio::Sound sound{
        .sample_rate_hz = take.sample_rate_hz, .channels = static_cast<int>(take.channels.size()), .interleaved = {}};
    const std::size_t frames = take.channels.front().size();
    sound.interleaved.reserve(frames * take.channels.size());
    for (std::size_t n = 0; n < frames; ++n) {
        for (const auto& channel : take.channels) {
            sound.interleaved.push_back(channel[n]);
        }
    }
    audio::write_sound(path, sound, format);
}

std::string truth_members(const bite::Scenario& scenario, const bite::Take& take) {
    auto out = precise();
    out << R"("change":)" << change_json(scenario.change) << R"(,"taps":[)";
    for (std::size_t t = 0; t < take.taps.size(); ++t) {
        const auto& tap = take.taps[t];
        out << (t > 0 ? "," : "") << R"({"onset_s":)" << tap.onset_s << R"(,"arrival_s":[)";
        for (std::size_t c = 0; c < tap.arrival_s.size(); ++c) {
            out << (c > 0 ? "," : "") << tap.arrival_s[c];
        }
        out << R"(],"peak":[)";
        for (std::size_t c = 0; c < tap.peak.size(); ++c) {
            out << (c > 0 ? "," : "") << tap.peak[c];
        }
        std::vector<bool> seen(bite::pair_count, false);
        auto first = precise();
        auto again = precise();
        for (const auto& c : tap.contacts) {
            put_contact(seen[c.pair] ? again : first, c);
            seen[c.pair] = true;
        }
        out << R"(],"contacts":[)" << first.str() << R"(],"again":[)" << again.str() << "]}";
    }
    out << "]";
    return out.str();
}

} // namespace retap::tools
