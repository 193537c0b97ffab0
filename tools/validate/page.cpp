#include "validate/page.hpp"

#include "aside_file.hpp"
#include "validate/text_table.hpp"

#include <fstream>
#include <thread>

namespace retap::validate {

namespace {

std::string processor() {
    std::ifstream info("/proc/cpuinfo");
    for (std::string line; std::getline(info, line);) {
        if (line.starts_with("model name")) {
            return line.substr(line.find(':') + 2);
        }
    }
    return "unknown processor";
}

std::string conditions_text(const Options& options, double took_s) {
    return "Run on " + options.date + ": `" + options.command + "`, patients " + std::to_string(options.seed) + " to " +
           std::to_string(options.seed + options.patients - 1) + ", " + fixed(took_s / 60.0, 1) + " min on " +
           std::to_string(options.cores > 0 ? options.cores : std::thread::hardware_concurrency()) + " cores of " +
           processor() + ".\n";
}

} // namespace

std::vector<Section> sections_of(const Options& options, const Results& results) {
    std::vector<Section> sections;
    if (options.table) {
        sections.push_back(summary_section(results.pairs));
        sections.push_back(table_section(results.pairs));
        sections.push_back(verdict_section(results.pairs));
        sections.push_back(calibration_section(results.pairs));
    }
    if (options.contacts) {
        sections.push_back(contacts_section(results.contacts));
    }
    if (options.taps) {
        sections.push_back(taps_section(results.taps));
    }
    if (options.echoes) {
        sections.push_back(echoes_section(results.echoes));
    }
    return sections;
}

std::string page(const Options& options, std::span<const Section> sections, double took_s) {
    std::string text = R"(# Validation on simulated bites

Everything on this page is **simulated**: the bites come from a physical model, the sounds from that model's skull or from
recorded drumsticks and the like. Nothing here was measured on people. The page is written by `tools/validate`; do not edit it.

)";
    text += conditions_text(options, took_s);
    text += options.seed >= first_unseen_seed
                ? "Patients from " + std::to_string(first_unseen_seed) + " on are kept out of all tuning.\n"
                : "**Not a held-out run**: patients below " + std::to_string(first_unseen_seed) +
                      " were seen while tuning.\n";
    text += R"(
A patient taps eight times a take unless told otherwise. Between the takes the pick-up is taken off and put back (0.8 to 3 dB
for each mode or octave, 0.5 to 2 dB an octave of tilt, 1 to 2 dB of level, 1 to 5 mm of place, by patient), effort and posture
drift, and every tap scatters as that person's do. One recording chain a patient: the gain stays, and the noise lies 28 to 46 dB
under the peak of that patient's usual tap of the unchanged bite, so softer taps lie deeper in it; the pick-up sits at the
forehead or, in a third, at a cheekbone, and half of the rooms are heard. Two comparisons a patient are unchanged; in each of
the others one tooth in contact, drawn for the patient, is higher, or 60 µm lower.

A family is a kind of jaw and a kind of sound. Jaws: *light*, soft ligaments on which the other teeth nearly always follow a
high one; *stopping*, stiff enough for one high tooth to take up the closing energy; *chance*, several contacts a tooth, which
change from tap to tap; *mixed*, anything between. Sounds: *modal*, the modes of a simulated skull,
which each tooth drives in its own way or, from patient to patient, nearly like the others; *strikes*, a recorded impact
coloured by patient, tooth pair and contact; *turns*, the same with several recordings by turns.
)";
    for (const Section& section : sections) {
        text += "\n## " + section.title + "\n\n" + section.text;
        for (const NamedFile& plot : section.plots) {
            text += "\n![" + section.title + "](" + plot.name + ")\n";
        }
        for (const NamedFile& numbers : section.numbers) {
            text += "\nAll numbers: [" + numbers.name + "](" + numbers.name + ")\n";
        }
    }
    return text;
}

void write_page(const Options& options, std::span<const Section> sections, double took_s) {
    std::filesystem::create_directories(options.out);
    for (const Section& section : sections) {
        for (const auto* files : {&section.plots, &section.numbers}) {
            for (const NamedFile& file : *files) {
                write_file_whole(options.out / file.name, file.content);
            }
        }
    }
    write_file_whole(options.out / "README.md", page(options, sections, took_s));
}

} // namespace retap::validate
