// Simulated patients and their takes: what is made, and what the sound stage hears in it.
#pragma once

#include "bite/make_take.hpp"
#include "dsp/base/take.hpp"
#include "validate/families.hpp"
#include "validate/rivals.hpp"

#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

namespace retap::validate {

/// One thing that was, or was not, done to the bite before the second take.
struct Condition {
    std::string_view name; ///< as in tables and files
    double height_um; ///< on one tooth in contact, drawn for the patient; 0: nothing was done; below 0: out of contact
};

/// Two unchanged ones, 15 to 200 um high, 60 um low; each patient goes through all of them.
inline constexpr std::array<Condition, 8> conditions{{{.name = "unchanged", .height_um = 0.0},
                                                      {.name = "unchanged", .height_um = 0.0},
                                                      {.name = "15", .height_um = 15.0},
                                                      {.name = "25", .height_um = 25.0},
                                                      {.name = "50", .height_um = 50.0},
                                                      {.name = "100", .height_um = 100.0},
                                                      {.name = "200", .height_um = 200.0},
                                                      {.name = "low60", .height_um = -60.0}}};

/// A take with its truth, and what Retap makes of its sound.
struct HeardTake {
    bite::Scenario scenario{};
    std::vector<bite::TapTruth> truth{};
    dsp::TakeAnalysis heard{};
    RivalFeatures rivals{};
};

/// Which take of several of one bite, and whether the pick-up was put back anew for it.
struct Repeat {
    std::size_t number = 0; ///< 0: the first
    bool new_seat = true;
};

/// The take before anything was done: first seat of the pick-up.
[[nodiscard]] bite::Scenario take_before(const Family& family, std::uint64_t patient, const Recordings& recordings,
                                         const Repeat& repeat = {});
/// The take after conditions[which]: pick-up re-seated, other taps, other noise, the same recording chain.
[[nodiscard]] bite::Scenario take_after(const Family& family, std::uint64_t patient, const Recordings& recordings,
                                        std::size_t which, const Repeat& repeat = {});

/// Makes the sound and inspects it as the command would a float file of it.
[[nodiscard]] HeardTake hear(const bite::Scenario& scenario);
/// The same of a take that was made already.
[[nodiscard]] HeardTake hear(const bite::Scenario& scenario, bite::Take take);

/// Inspects one channel of samples.
[[nodiscard]] dsp::TakeAnalysis inspect(std::vector<float> samples, double rate_hz);

/// Inspects a take with all its channels.
[[nodiscard]] dsp::TakeAnalysis inspect(const bite::Take& take);

/// When the first contact of each pair reaches the first pick-up, by time, for one tap of that scenario.
[[nodiscard]] std::vector<double> first_arrivals_s(const bite::Scenario& scenario, const bite::TapTruth& tap);

} // namespace retap::validate
