// retap batch: inspect many takes on all cores.
#include "aside_file.hpp"
#include "audio/inspect_file.hpp"
#include "audio/sound_magic.hpp"
#include "batch_csv.hpp"
#include "batch_shards.hpp"
#include "command_line.hpp"
#include "error.hpp"
#include "outputs.hpp"
#include "report/json.hpp"
#include "terminal.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <cctype>
#include <exception>
#include <fstream>
#include <iterator>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <string_view>
#include <thread>
#include <vector>

namespace retap::commands {
namespace {

struct BatchOptions {
    std::string folder;
    std::string csv;
    std::string shard;
    audio::ChannelChoice channels;
    bool json = false;
};

/// By its name, or by how it begins.
bool sounds_like_a_take(const std::filesystem::path& file) {
    constexpr std::array<std::string_view, 26> endings{
        ".wav", ".wave", ".flac", ".aif", ".aiff", ".aifc", ".ogg", ".oga", ".opus", ".mp3", ".w64", ".rf64", ".caf",
        ".au",  ".m4a",  ".mp4",  ".mov", ".aac",  ".webm", ".mka", ".mkv", ".amr",  ".awb", ".3gp", ".3ga",  ".wma"};
    std::string ending = file.extension().string();
    std::ranges::transform(ending, ending.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return std::ranges::find(endings, ending) != endings.end() || audio::sound_kind(file);
}

struct FolderContent {
    std::vector<std::filesystem::path> takes;
    std::vector<std::filesystem::path> passed_over; ///< files that are no sound, neither by name nor by content
};

FolderContent content_of(const std::filesystem::path& folder) {
    std::error_code fault;
    FolderContent content;
    for (std::filesystem::directory_iterator entry(folder, fault), end; !fault && entry != end;
         entry.increment(fault)) {
        std::error_code gone; // then it is nothing that could be read
        if (entry->path().filename().string().starts_with(".") || entry->is_directory(gone)) {
            continue;
        }
        (sounds_like_a_take(entry->path()) ? content.takes : content.passed_over).push_back(entry->path());
    }
    if (fault) {
        throw InputError("Cannot list '" + folder.string() + "': " + fault.message() +
                         ". Name a folder with sound files.");
    }
    if (content.takes.empty()) {
        throw InputError("There are no sound files in '" + folder.string() +
                         "'. Name the folder that holds them; folders inside it are not searched.");
    }
    std::ranges::sort(content.takes);
    std::ranges::sort(content.passed_over);
    return content;
}

BatchResult inspect_one(const std::filesystem::path& file, const audio::ChannelChoice& channels) {
    BatchResult result{.file = file, .take = std::nullopt, .error = {}};
    try {
        result.take = audio::inspect_file(file, channels);
        for (dsp::Tap& tap : result.take->taps) {
            tap.excerpt = {}; // not in the results, and thousands of takes may wait for the last
        }
    } catch (const InputError& error) {
        result.error = error.what();
    }
    return result;
}

/// A fault of ours in one worker stops them all and is thrown here; a bad file stops nothing.
std::vector<BatchResult> inspect_all(const std::vector<std::filesystem::path>& files,
                                     const audio::ChannelChoice& channels) {
    std::vector<BatchResult> results(files.size());
    std::atomic<std::size_t> next{0};
    std::exception_ptr fault;
    std::mutex fault_lock;
    Progress progress(files.size(), "takes");
    const auto work = [&] {
        try {
            for (std::size_t i = next++; i < files.size(); i = next++) {
                results[i] = inspect_one(files[i], channels);
                progress.step();
            }
        } catch (...) {
            next = files.size();
            const std::scoped_lock hold(fault_lock);
            fault = std::current_exception();
        }
    };
    {
        std::vector<std::jthread> workers;
        const std::size_t cores = std::max(1U, std::thread::hardware_concurrency());
        for (std::size_t i = 0; i < std::min(cores, files.size()); ++i) {
            workers.emplace_back(work);
        }
    }
    if (fault) {
        std::rethrow_exception(fault);
    }
    return results;
}

report::Json batch_json(const std::vector<BatchResult>& results,
                        const std::vector<std::filesystem::path>& passed_over) {
    report::Json takes = report::Json::array();
    report::Json failed = report::Json::array();
    dsp::TakeAnalysis first; // speaks for all: they are analysed alike
    for (const BatchResult& result : results) {
        if (result.take) {
            takes.push_back(report::take_without_settings_json(*result.take));
            first.settings = result.take->settings;
        } else {
            failed.push_back({{"file", result.file.string()}, {"error", result.error}});
        }
    }
    report::Json others = report::Json::array();
    for (const auto& file : passed_over) {
        others.push_back(file.string());
    }
    return {{"format", "retap.batch/1"},
            {"takes", std::move(takes)},
            {"failed", std::move(failed)},
            {"settings", report::settings_json(first)},
            {"passed_over", std::move(others)}};
}

std::string passed_over_text(const std::vector<std::filesystem::path>& files) {
    constexpr std::size_t most_named = 8;
    std::string names;
    for (std::size_t i = 0; i < std::min(files.size(), most_named); ++i) {
        names += (i == 0 ? "" : ", ") + files[i].filename().string();
    }
    if (files.size() > most_named) {
        names += " and " + std::to_string(files.size() - most_named) + " more";
    }
    return files.empty() ? "" : "Passed over, as no sound: " + names + ".\n";
}

std::string batch_text(const std::vector<BatchResult>& results, const std::vector<std::filesystem::path>& passed_over,
                       const std::string& csv) {
    std::size_t inspected = 0;
    std::size_t fit = 0;
    for (const BatchResult& result : results) {
        inspected += result.take ? 1U : 0U;
        fit += result.take && result.take->fitness.usable ? 1U : 0U;
    }
    return std::to_string(results.size()) + " files: " + std::to_string(inspected) + " inspected, " +
           std::to_string(fit) + " of them fit to compare, " + std::to_string(results.size() - inspected) +
           " could not be used.\n" + passed_over_text(passed_over) + (csv.empty() ? "" : "Table: " + csv + "\n");
}

void run(const BatchOptions& options) {
    if (options.csv.empty() && !options.json) {
        throw UsageError("Nothing would come of this: name a table to write (--csv OUT.csv) or ask for --json.");
    }
    const std::optional<Shard> shard = options.shard.empty() ? std::nullopt : std::optional(shard_from(options.shard));
    FolderContent content = content_of(options.folder);
    const auto& all = content.takes;
    if (!options.csv.empty()) {
        refuse_to_overwrite(options.csv, all);
    }
    const auto files = shard ? files_of(*shard, all) : all;
    std::erase_if(content.passed_over, [&](const auto& file) { // an older table that is replaced is no surprise
        std::error_code not_there;
        return !options.csv.empty() && std::filesystem::equivalent(file, options.csv, not_there);
    });
    // Asked for before the work, so that an hour of it is not lost to a folder that cannot be written to.
    std::optional<AsideFile> table;
    if (!options.csv.empty()) {
        write_privately();
        table.emplace(options.csv);
    }
    const auto results = inspect_all(files, options.channels);
    for (const BatchResult& result : results) {
        if (!result.take) {
            warn(result.error);
        }
    }
    // A part may hold few files or none, and is done all the same.
    if (!shard && std::ranges::none_of(results, [](const BatchResult& result) { return result.take.has_value(); })) {
        throw InputError("None of the " + std::to_string(results.size()) + " sound files in '" + options.folder +
                         "' could be used.");
    }
    if (table) {
        table->write(batch_csv(results));
        table->commit();
    }
    print(options.json ? report::json_text(batch_json(results, content.passed_over))
                       : batch_text(results, content.passed_over, options.csv));
}

struct MergeOptions {
    std::string out;
    std::vector<std::string> parts;
};

void merge(const MergeOptions& options) {
    refuse_to_overwrite(options.out, {options.parts.begin(), options.parts.end()});
    std::vector<TablePart> parts;
    for (const std::string& name : options.parts) {
        std::ifstream in(name, std::ios::binary);
        parts.push_back({name, std::string(std::istreambuf_iterator<char>(in), {})});
        if (!in) {
            throw InputError("Cannot read '" + name + "'. Run that part again: retap batch DIR --shard I/N --csv FILE");
        }
    }
    write_privately();
    write_file_whole(options.out, merged_tables(parts));
    print(std::to_string(parts.size()) + " tables are put together in " + options.out + ".\n");
}

void add_merge(Command program) {
    auto options = std::make_shared<MergeOptions>();
    Command command = program.subcommand("merge", "Put together the tables that 'retap batch --shard' wrote");
    command.option("OUT", options->out, "The table to write").required();
    command.option("PART", options->parts, "The tables of the parts").required();
    command.when_run([options] { merge(*options); });
}

} // namespace

void add_batch(Command program) {
    add_merge(program);
    auto options = std::make_shared<BatchOptions>();
    Command command = program.subcommand("batch", "Inspect every take in a folder, on all cores");
    command.option("DIR", options->folder, "A folder of sound files; folders inside it are not searched").required();
    command.option("--csv", options->csv, "Write a table, one row per file").type_name("OUT.csv");
    command
        .option("--shard", options->shard,
                "Only part I of N, for several programs or machines on one folder; then: retap merge")
        .type_name("I/N");
    command.channels_option(options->channels);
    command.json_flag(options->json);
    command.footer("A file that cannot be used is listed and does not stop the others; the exit status is 3 only when "
                   "none could be used.");
    command.when_run([options] { run(*options); });
}

} // namespace retap::commands
