#include "bite/closing.hpp"

#include "bite/closing_state.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace retap::bite {

namespace {

constexpr double quiet_n = 2e-3; // a closing ends when no tooth presses harder than this
constexpr double min_length_s = 0.02;
constexpr double strongest_pull = 1.4; // of a muscle that is being stretched, relative to one that stands still (M)

// `speed` is that of the muscle's shortening, relative to what it was while the jaw still closed freely.
double muscle_force(const Muscle& m, double factor, double since_contact_s, double speed) {
    const double shortening = std::clamp(1.0 - speed, 0.0, strongest_pull);
    const double rising = std::clamp(since_contact_s, 0.0, m.silence_after_s);
    const double force = factor * (m.force_n + m.rise_n_per_s * rising) * shortening;
    if (since_contact_s <= m.silence_after_s) {
        return force;
    }
    const double left = std::exp(-(since_contact_s - m.silence_after_s) / m.release_s);
    return (force + m.opening_n) * left - m.opening_n;
}

// Follows which pairs touch, and where, and turns the changes into events.
class ContactLog {
public:
    explicit ContactLog(std::size_t more) : open_(pair_count + more, -1) {}

    void look(const ClosingState& s, double now_s, double step_s) {
        const auto& own = s.points.empty() ? s.contact_force : s.own_force;
        for (std::size_t i = 0; i < pair_count; ++i) {
            look_at({.pair = i}, s.overlap[i], s.closing_speed[i], own[i], now_s, step_s);
        }
        for (std::size_t p = 0; p < s.points.size(); ++p) {
            const auto& point = s.points[p];
            look_at({.pair = point.pair, .point = p + 1, .share = point.share}, point.overlap,
                    s.closing_speed[point.pair], point.force, now_s, step_s);
        }
    }
    [[nodiscard]] bool any_open() const {
        return std::any_of(open_.begin(), open_.end(), [](int i) { return i >= 0; });
    }
    [[nodiscard]] bool empty() const { return events_.empty(); }
    [[nodiscard]] double first_s() const { return events_.front().at_s; }
    [[nodiscard]] std::vector<ContactEvent> take() {
        std::stable_sort(events_.begin(), events_.end(),
                         [](const ContactEvent& a, const ContactEvent& b) { return a.at_s < b.at_s; });
        return std::move(events_);
    }

private:
    void look_at(const ContactEvent& where, double overlap, double speed, double force, double now_s, double step_s) {
        int& open = open_[where.point == 0 ? where.pair : pair_count + where.point - 1];
        if (overlap <= 0.0) {
            open = -1;
            return;
        }
        if (open < 0) {
            // Back to the instant of touching: the overlap grew at the closing speed since.
            const double back = speed > 0.0 ? overlap / speed : 0.0;
            open = static_cast<int>(events_.size());
            events_.push_back(where);
            events_.back().at_s = now_s - std::min(back, step_s);
            events_.back().speed_m_per_s = speed;
        }
        auto& event = events_[static_cast<std::size_t>(open)];
        event.peak_n = std::max(event.peak_n, force);
        event.impulse_n_s += force * step_s;
        event.parted_s = now_s;
    }

    std::vector<ContactEvent> events_;
    std::vector<int> open_; // index of the event that lasts, of each pair's own point and then of the others
};

} // namespace

Closing integrate_closing(const Patient& patient, const BiteChange& change, const Approach& approach,
                          const ClosingSettings& settings) {
    assert(approach.speed_m_per_s > 0.0 && std::isfinite(approach.speed_m_per_s));
    assert(settings.force_rate_hz > 0.0 && settings.steps_per_force > 0 && settings.longest_s > 0.0);
    const double step_s = 1.0 / (settings.force_rate_hz * settings.steps_per_force);
    ClosingState state(patient, change, approach, settings.lead_s);
    ContactLog log(approach.more.size());
    Closing out{.force_rate_hz = settings.force_rate_hz};
    const bool slides = state.slides();
    const double free_speed = state.hinge_speed();
    const auto most = static_cast<std::size_t>(settings.longest_s * settings.force_rate_hz);
    out.normal_n.reserve(most * pair_count);
    out.energy.start = state.kinetic_energy() + state.stored_energy();
    double now_s = 0.0; // of the positions that the next step starts from, to which its forces belong
    std::size_t step = 0;
    for (std::size_t frame = 0; frame < most; ++frame) {
        for (int k = 0; k < settings.steps_per_force; ++k) {
            const double since = log.empty() ? 0.0 : now_s - log.first_s();
            const double speed = state.hinge_speed() / free_speed;
            state.step(step_s, muscle_force(patient.muscle, approach.muscle, since, speed));
            log.look(state, now_s, step_s);
            if (k == 0) {
                out.normal_n.insert(out.normal_n.end(), state.skull_force.begin(), state.skull_force.end());
                if (slides) {
                    out.tangential_n.insert(out.tangential_n.end(), state.skull_side_force.begin(),
                                            state.skull_side_force.end());
                }
            }
            now_s = static_cast<double>(++step) * step_s;
        }
        const double loudest = *std::max_element(state.skull_force.begin(), state.skull_force.end());
        if (now_s > min_length_s && !log.any_open() && loudest < quiet_n) {
            break;
        }
    }
    out.frames = out.normal_n.size() / pair_count;
    out.contacts = log.take();
    out.energy.muscle = state.muscle_work;
    out.energy.dissipated = state.dissipated;
    out.energy.kinetic = state.kinetic_energy();
    out.energy.stored = state.stored_energy();
    return out;
}

} // namespace retap::bite
