// retap visit take: a kept take as a sound file again.
#include "aside_file.hpp"
#include "audio/sound_file.hpp"
#include "audio/sound_writer.hpp"
#include "error.hpp"
#include "outputs.hpp"
#include "report/json.hpp"
#include "terminal.hpp"
#include "visit/take_sounds.hpp"
#include "visit_commands.hpp"

#include <algorithm>

namespace retap::commands {
namespace {

struct VisitTakeOptions {
    visit::VisitId id = 0;
    std::string look;
    int entry = 0;
    std::string out;
    bool force = false;
    bool json = false;
};

const visit::Said<visit::TakeKept>& take_of(visit::VisitStore& store, const visit::Visit& visit,
                                            const visit::Look& look, int wanted) {
    if (look.takes.empty()) {
        throw InputError("Look '" + text(look.name) + "' of visit " + std::to_string(visit.id) + " has no take.");
    }
    const int entry = wanted != 0 ? wanted : visit::shown_take(look, [&](const auto& take) {
        return visit::inspect_kept(store, visit.id, take).fitness.usable;
    });
    const auto found =
        std::find_if(look.takes.begin(), look.takes.end(), [&](const auto& take) { return take.entry == entry; });
    if (found == look.takes.end()) {
        std::string takes;
        for (const auto& take : look.takes) {
            takes += (takes.empty() ? "" : ", ") + std::to_string(take.entry);
        }
        throw InputError("Entry " + std::to_string(entry) + " is no take of look '" + text(look.name) +
                         "'. Its takes are: " + takes);
    }
    return *found;
}

/// As it is kept, or as WAV of the same samples.
std::string bytes_for(const std::string& ending, const visit::TakeContent& content, const std::string& name) {
    const std::vector<std::byte> bytes =
        ending == ".flac" ? content.flac
                          : audio::encode_sound(audio::read_sound(content.flac, name), audio::SoundFormat::wav_24);
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

void run(const VisitTakeOptions& options, const StoreOption& store) {
    const std::filesystem::path out = options.out;
    const std::string ending = out.extension().string();
    if (ending != ".flac" && ending != ".wav") {
        throw UsageError("'" + options.out +
                         "' does not say what kind of sound to write. Name it .flac (as it is kept) "
                         "or .wav.");
    }
    refuse_to_overwrite(out, {store.file()});
    if (!options.force && std::filesystem::exists(out)) {
        throw UsageError("'" + options.out + "' exists already. Give another name, or --force to replace it.");
    }
    const auto open = store.open();
    const visit::Visit visit = open->load(options.id);
    const auto& take = take_of(*open, visit, look_of(visit, options.look), options.entry);
    const visit::TakeContent content = open->take(visit.id, take.entry);
    write_privately();
    write_file_whole(out, bytes_for(ending, content, take.content.name));
    if (options.json) {
        print(report::json_text({{"format", "retap.taken-out/1"},
                                 {"visit", visit.id},
                                 {"look", options.look},
                                 {"entry", take.entry},
                                 {"name", take.content.name},
                                 {"file", options.out}}));
    } else {
        print("Entry " + std::to_string(take.entry) + " ('" + take.content.name + "') of visit " +
              std::to_string(visit.id) + ", look '" + options.look + "', is written to " + options.out +
              ". It is health data: keep it as such.\n");
    }
}

} // namespace

void add_visit_take(Command group, const StoreOption& store) {
    auto options = std::make_shared<VisitTakeOptions>();
    Command command = add_visit_command(group, "take", "Take a kept take out again, as a sound file");
    add_visit_argument(command, options->id);
    add_look_argument(command, options->look).required();
    command.option("--out", options->out, "The sound file to write (.flac as it is kept, or .wav)")
        .required()
        .type_name("FILE");
    command
        .option("--entry", options->entry, "Entry of the take, where the look has several; else the first that is fit")
        .counting_number();
    command.flag("--force", options->force, "Replace a file that exists");
    command.json_flag(options->json);
    command.when_run([options, store] { run(*options, store); });
}

} // namespace retap::commands
