#include "lesson/handout.hpp"

#include "audio/sound_writer.hpp"
#include "lesson/bite_sounds.hpp"

#include <utility>

namespace retap::lesson {
namespace {

constexpr int taps = 5; // enough to hear a rhythm

report::Sound encoded(const audio::Sound& sound) {
    return {.media_type = "audio/flac", .bytes = flac_of(sound)};
}

bite::LessonBite shortened(bite::LessonBite bite) {
    bite.taps = taps;
    return bite;
}

} // namespace

std::string flac_of(const audio::Sound& sound) {
    const auto bytes = audio::encode_sound(sound, audio::SoundFormat::flac_24);
    std::string out;
    out.reserve(bytes.size());
    for (const std::byte byte : bytes) {
        out.push_back(static_cast<char>(byte));
    }
    return out;
}

report::HandoutLesson handout_lesson(int number, std::uint64_t task_seed) {
    report::HandoutLesson entry{.lesson = bite::lesson(number, task_seed)};
    for (const bite::LessonSound& sound : entry.lesson.sounds) {
        LessonTake made = make_and_hear(shortened(sound.bite), sound.name);
        entry.sounds.push_back(
            {.truth = std::move(made.truth), .heard = std::move(made.heard), .sound = encoded(made.sound)});
    }
    for (const bite::LessonSound& sound : entry.lesson.task.sounds) {
        entry.task_sounds.push_back(encoded(sound_of(bite::make_lesson_take(shortened(sound.bite)))));
    }
    return entry;
}

} // namespace retap::lesson
