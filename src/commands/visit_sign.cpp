// retap visit sign, retap visit verify
#include "error.hpp"
#include "report/json.hpp"
#include "report/visit_json.hpp"
#include "report/visit_report.hpp"
#include "terminal.hpp"
#include "visit_commands.hpp"

#include <array>
#include <span>
#include <string_view>

namespace retap::commands {
namespace {

struct SignOptions {
    visit::VisitId id = 0;
    std::string name;
    std::string role;
    std::string comment;
    bool json = false;
};

void sign(const SignOptions& options, const StoreOption& store) {
    const auto open = store.open();
    // A signature under a record that is not what was written would be worth nothing.
    if (const auto faults = open->verify(options.id); !faults.empty()) {
        throw StoreError("Visit " + std::to_string(options.id) + " cannot be signed: " + faults.front());
    }
    const int entry = open->add(options.id, {stamp_now(options.name), std::nullopt, std::nullopt,
                                             visit::Signed{options.role, options.comment}});
    const visit::Visit visit = open->load(options.id);
    const std::string digest = visit.digest();
    const std::string left = report::still_open(visit);
    if (options.json) {
        print(report::json_text({{"format", "retap.written/1"},
                                 {"visit", options.id},
                                 {"entry", entry},
                                 {"digest", digest},
                                 {"still_open", report::open_json(visit)}}));
    } else {
        print("Visit " + std::to_string(options.id) + " is signed by " + options.name + ", " + options.role +
              ", and closed.\nDigest over everything in it: " + digest +
              "\nKeep it outside the store (the report shows it): with it, any later change can be shown.\n" +
              (left.empty() ? ""
                            : "Still open: " + left + "\nOn that day: retap visit new --follows " +
                                  std::to_string(options.id) + "\n"));
    }
}

/// The limits of what verify can say, with every answer.
constexpr std::array<std::string_view, 4> not_shown = {
    "A visit that was written anew from its first entry on, by somebody with the file and this program, unless its "
    "digest "
    "was noted elsewhere.",
    "A visit that is missing from the store altogether, or a whole store that was replaced.",
    "Whether a name is that of the person who typed, and whether the machine's clock was right.",
    "Changes to the list of erased visits, of which only numbers, times, names and reasons are left."};

std::string as_list(std::span<const std::string_view> sentences) {
    std::string text;
    for (const std::string_view sentence : sentences) {
        text += "  - " + std::string(sentence) + "\n";
    }
    return text;
}

struct VerifyOptions {
    visit::VisitId id = 0;
    std::string digest;
    bool json = false;
};

void verify(const VerifyOptions& options, const StoreOption& store) {
    const auto open = store.open();
    std::vector<std::string> faults = open->verify(options.id);
    const visit::Visit visit = open->load(options.id);
    if (!options.digest.empty() && options.digest != visit.digest()) {
        faults.push_back("The digest is " + visit.digest() + ", not the one that was noted.");
    }
    if (options.json) {
        print(report::json_text({{"format", "retap.verified/1"},
                                 {"visit", options.id},
                                 {"whole", faults.empty()},
                                 {"closed", visit.closed()},
                                 {"faults", faults},
                                 {"not_shown", not_shown},
                                 {"digest", visit.digest()}}));
    }
    if (!faults.empty()) {
        std::string told;
        for (const std::string& fault : faults) {
            told += "\n  - " + fault;
        }
        throw StoreError("Visit " + std::to_string(options.id) + " is not what was written:" + told +
                         "\nKeep the store aside as it is, and compare with a backup or an export.");
    }
    if (!options.json) {
        print("Visit " + std::to_string(options.id) + " is whole: every entry and take is what was written.\n" +
              (visit.closed() ? "Signed by " + visit.signature->stamp.by + ", " +
                                    report::readable_time(visit.signature->stamp.at) + ".\n"
                              : "It is open.\n") +
              "Digest " + visit.digest() + "\n" +
              (options.digest.empty() ? "Compare it with the digest on the signed report: retap visit verify " +
                                            std::to_string(options.id) + " --digest DIGEST\n"
                                      : "It is the one that was noted.\n") +
              "What a digest cannot show:\n" + as_list(not_shown));
    }
}

} // namespace

void add_visit_sign(Command group, const StoreOption& store) {
    auto options = std::make_shared<SignOptions>();
    Command command = add_visit_command(group, "sign", "Close a visit with the supervisor's sign-off");
    add_visit_argument(command, options->id);
    command.option("--name", options->name, "Who signs").required().type_name("NAME");
    command.option("--role", options->role, "In which role").required().type_name("TEXT");
    command.option("--comment", options->comment, "What they say to it").type_name("TEXT");
    command.json_flag(options->json);
    command.when_run([options, store] { sign(*options, store); });

    auto verifying = std::make_shared<VerifyOptions>();
    Command check =
        add_visit_command(group, "verify", "Check that a visit is what was written (status 5 when it is not)");
    add_visit_argument(check, verifying->id);
    check.option("--digest", verifying->digest, "The digest as it was noted when the visit was signed")
        .type_name("DIGEST");
    check.json_flag(verifying->json);
    check.when_run([verifying, store] { verify(*verifying, store); });
}

} // namespace retap::commands
