// retap school: the store that the chairs of a clinic share.
#include "visit/school.hpp"
#include "error.hpp"
#include "report/json.hpp"
#include "school_commands.hpp"
#include "terminal.hpp"

namespace retap::commands {
namespace {

struct PersonOptions {
    std::string login;
    std::string name;
    std::string role;
};

void add_school_init(Command group, const StoreOption& store) {
    Command init =
        add_visit_command(group, "init", "Make the shared store's tables and roles, or bring them up to date");
    init.when_run([store] {
        visit::set_up_server(store.file().string());
        print("The shared store is set up. Who works with it: retap school person LOGIN --name NAME --role student\n");
    });
}

void add_school_person(Command group, const StoreOption& store) {
    auto options = std::make_shared<PersonOptions>();
    Command person = add_visit_command(group, "person", "Let a person work with the shared store");
    person.option("LOGIN", options->login, "What the server knows them by; made when it does not").required();
    person.option("--name", options->name, "The name that they sign with; it stays").required().type_name("NAME");
    person
        .option("--role", options->role,
                "student (writes own visits), supervisor (signs any), coordinator (reads all, erases); "
                "run it again for another")
        .required()
        .one_of({"student", "supervisor", "coordinator"})
        .type_name("ROLE");
    person.when_run([options, store] {
        visit::add_person(store.file().string(),
                          {options->login, options->name, {*visit::clinic_role_from(options->role)}});
        print(options->name + " works with the shared store as " + options->role + ", with the login " +
              options->login + ". How the login proves itself is set on the server (a password: \\password " +
              options->login + " in psql).\n");
    });
}

void add_school_people(Command group, const StoreOption& store) {
    auto json = std::make_shared<bool>(false);
    Command people = add_visit_command(group, "people", "List who works with the shared store, and as what");
    people.json_flag(*json);
    people.when_run([json, store] {
        report::Json list = report::Json::array();
        std::string text;
        for (const visit::Person& person : visit::persons(store.file().string())) {
            report::Json roles = report::Json::array();
            std::string words;
            for (const auto role : person.roles) {
                roles.push_back(visit::word(role));
                words += (words.empty() ? "" : ", ") + std::string(visit::word(role));
            }
            list.push_back({{"login", person.login}, {"name", person.name}, {"roles", std::move(roles)}});
            text += person.name + " (" + person.login + "): " + (words.empty() ? "nothing" : words) + "\n";
        }
        print(*json          ? report::json_text({{"format", "retap.people/1"}, {"people", std::move(list)}})
              : text.empty() ? "Nobody yet.\n"
                             : text);
    });
}

struct VerifyClinicOptions {
    std::string digest;
    bool json = false;
};

void verify_clinic(const VerifyClinicOptions& options, const StoreOption& store) {
    visit::ClinicCheck check = visit::verify_clinic(store.file().string());
    bool found = options.digest.empty();
    std::string text;
    report::Json days = report::Json::array();
    for (const visit::DayDigest& day : check.days) {
        found = found || day.digest == options.digest;
        days.push_back({{"day", day.day}, {"written", day.written}, {"digest", day.digest}});
        text += "  " + day.day + "  " + day.digest + "  " + std::to_string(day.written) + " written\n";
    }
    if (!found) {
        check.faults.push_back("No day ends with the digest that was noted, " + options.digest + ".");
    }
    if (options.json) {
        print(report::json_text({{"format", "retap.clinic_verified/1"},
                                 {"whole", check.faults.empty()},
                                 {"faults", check.faults},
                                 {"days", std::move(days)}}));
    }
    if (!check.faults.empty()) {
        std::string told;
        for (const std::string& fault : check.faults) {
            told += "\n  - " + fault;
        }
        throw StoreError("The shared store is not what was written:" + told +
                         "\nKeep it aside as it is, and compare with a backup.");
    }
    if (!options.json) {
        print("Nothing is missing, and nothing was written past the journal. Each day (UTC) and its last digest:\n" +
              text +
              "Note the digest of a day that is over, outside the server; later: retap school verify --digest DIGEST.\n"
              "Who administers the server could write a whole new history; only a digest noted elsewhere shows that.\n"
              "The sounds of a visit are checked by: retap visit verify VISIT\n");
    }
}

void add_school_verify(Command group, const StoreOption& store) {
    auto options = std::make_shared<VerifyClinicOptions>();
    Command verify =
        add_visit_command(group, "verify", "Check that no visit or entry is missing (status 5 when one is)");
    verify.option("--digest", options->digest, "The last digest of a day, as it was noted").type_name("DIGEST");
    verify.json_flag(options->json);
    verify.when_run([options, store] { verify_clinic(*options, store); });
}

} // namespace

void add_school(Command program) {
    add_cohort(program);
    Command group = program.subcommand("school", "Look after the store that a clinic shares on a PostgreSQL server");
    const StoreOption store(group);
    add_school_init(group, store);
    add_school_person(group, store);
    add_school_people(group, store);
    add_school_verify(group, store);
    add_school_carry(group, store);
    group.when_run([group] {
        if (!group.subcommand_given()) {
            throw UsageError("Say what to do, as in: retap school init --store postgresql://LOGIN@HOST/DATABASE. "
                             "Try: retap school --help");
        }
    });
}

} // namespace retap::commands
