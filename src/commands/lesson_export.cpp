#include "lesson_export.hpp"

#include "aside_file.hpp"
#include "audio/sound_writer.hpp"
#include "bite/lesson.hpp"
#include "lesson_sounds.hpp"
#include "report/lesson_page.hpp"
#include "terminal.hpp"

#include <future>
#include <utility>
#include <vector>

namespace retap::commands {
namespace {

constexpr std::uint64_t task_seed = 20; // its right answers are not all in one place
constexpr int taps = 5;                 // enough to hear a rhythm; keeps the page at a few megabytes

report::Sound encoded(const audio::Sound& sound) {
    const auto bytes = audio::encode_sound(sound, audio::SoundFormat::flac_24);
    report::Sound out{.media_type = "audio/flac", .bytes = {}};
    out.bytes.reserve(bytes.size());
    for (const std::byte byte : bytes) {
        out.bytes.push_back(static_cast<char>(byte));
    }
    return out;
}

report::HandoutLesson handout(int number) {
    report::HandoutLesson entry{.lesson = bite::lesson(number, task_seed)};
    for (const bite::LessonSound& sound : entry.lesson.sounds) {
        bite::LessonBite bite = sound.bite;
        bite.taps = taps;
        LessonTake made = make_and_hear(bite, sound.name);
        entry.sounds.push_back(
            {.truth = std::move(made.truth), .heard = std::move(made.heard), .sound = encoded(made.sound)});
    }
    for (const bite::LessonSound& sound : entry.lesson.task.sounds) {
        bite::LessonBite bite = sound.bite;
        bite.taps = taps;
        entry.task_sounds.push_back(encoded(sound_of(bite::make_lesson_take(bite))));
    }
    return entry;
}

} // namespace

void export_lessons(const std::filesystem::path& file) {
    AsideFile out(file); // opened before the work that it will hold
    std::vector<std::future<report::HandoutLesson>> pending;
    for (int number = 1; number <= bite::lesson_count; ++number) {
        pending.push_back(std::async(std::launch::async, handout, number));
    }
    Progress progress(pending.size(), "lessons");
    std::vector<report::HandoutLesson> lessons;
    for (auto& lesson : pending) {
        lessons.push_back(lesson.get());
        progress.step();
    }
    out.write(report::lesson_page(
        lessons, bite::clinic_words(),
        {.title = "What a balanced bite sounds like", .when = "", .program = "Retap " RETAP_VERSION}));
    out.commit();
}

} // namespace retap::commands
