#include "visit/postgres_school.hpp"

#include "error.hpp"
#include "visit/postgres_database.hpp"
#include "visit/postgres_schema.hpp"
#include "visit/sha256.hpp"
#include "visit/text_check.hpp"

#include <algorithm>
#include <set>

namespace retap::visit {

namespace {

constexpr const char* checking = "check the clinic's store";

/// A name within SQL, for the statements that take no values. As PostgreSQL's manual says of quoted identifiers.
std::string identifier(const std::string& name) {
    std::string quoted_name = "\"";
    for (const char c : name) {
        quoted_name += c == '"' ? "\"\"" : std::string(1, c);
    }
    return quoted_name + "\"";
}

/// Logins that need no thought about what they mean anywhere.
void check_login(const std::string& login) {
    const bool plain = !login.empty() && login.size() <= 60 && std::all_of(login.begin(), login.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_' || c == '.' || c == '-' || c == '@';
    });
    if (!plain) {
        throw UsageError("'" + login + "' is no login: small letters, digits and _ . - @, up to 60 of them.");
    }
}

struct Line {
    std::int64_t seq = 0;
    std::string day;
    std::string uid;
    std::int64_t number = 0;
    std::string entry_digest;
    std::string person;
    std::string digest;
};

std::string called(const Line& line) {
    return "entry " + std::to_string(line.number) + " of the visit " + line.uid + ", written on " + line.day +
           (line.person.empty() ? "" : " by " + line.person);
}

/// The chain by itself.
void follow(const std::vector<Line>& lines, ClinicCheck& check) {
    std::string before;
    std::int64_t seq = 0;
    for (const Line& line : lines) {
        if (line.seq != ++seq) {
            check.faults.push_back("The journal of the clinic lacks what stood before " + called(line) + ".");
            seq = line.seq;
        } else if (clinic_digest(before, line.day, line.uid, line.number, line.entry_digest, line.person) !=
                   line.digest) {
            check.faults.push_back("The journal of the clinic is not what was written at " + called(line) + ".");
        }
        before = line.digest;
        if (check.days.empty() || check.days.back().day != line.day) {
            check.days.push_back({line.day, 0, {}});
        }
        ++check.days.back().written;
        check.days.back().digest = line.digest;
    }
}

} // namespace

std::string clinic_digest(std::string_view before, std::string_view day, std::string_view uid, std::int64_t number,
                          std::string_view entry_digest, std::string_view person) {
    std::string content = "retap.day/1\n";
    const std::string said_number = std::to_string(number);
    for (const std::string_view part : {before, day, uid, std::string_view(said_number), entry_digest, person}) {
        content += std::to_string(part.size()) + ":" + std::string(part) + "\n";
    }
    return sha256(content);
}

PostgresSchool::PostgresSchool(const std::string& address) : server_(std::make_shared<PostgresDatabase>(address)) {
    check_school(*server_);
}

void PostgresSchool::add(const Person& person) {
    const std::string doing = "note a person";
    check_login(person.login);
    check_text(person.name, "the name");
    if (is_blank(person.name)) {
        throw UsageError("Say the name that they sign with: --name.");
    }
    Transaction transaction(*server_, doing);
    (void)server_->query(doing, "SELECT pg_advisory_xact_lock(1383358832)::text");
    if (server_->query(doing, "SELECT 1 FROM pg_roles WHERE rolname = ?", {person.login}).empty()) {
        server_->execute(doing, "CREATE ROLE " + identifier(person.login) + " LOGIN");
    }
    const auto there = server_->query(doing, "SELECT name FROM person WHERE login = ?", {person.login});
    if (there.empty()) {
        if (!server_->query(doing, "SELECT 1 FROM person WHERE name = ?", {person.name}).empty()) {
            throw InputError("Somebody else signs as " + person.name +
                             " already; add something by which they are told apart.");
        }
        server_->execute(doing, "INSERT INTO person (login, name) VALUES (?, ?)", {person.login, person.name});
    } else if (there.front().text(0) != person.name) {
        throw InputError("The login " + person.login + " belongs to " + there.front().text(0) +
                         ", whose signatures bear that name. Take another login for " + person.name + ".");
    }
    for (const ClinicRole role : person.roles) {
        server_->execute(doing, "GRANT retap_" + std::string(word(role)) + " TO " + identifier(person.login));
    }
    transaction.commit();
}

std::vector<Person> PostgresSchool::persons() {
    std::vector<Person> all;
    for (const SqlRow& row : server_->query("list the persons", "SELECT login, name FROM person ORDER BY name")) {
        Person& person = all.emplace_back(Person{row.text(0), row.text(1), {}});
        for (const auto role : {ClinicRole::student, ClinicRole::supervisor, ClinicRole::coordinator}) {
            if (!server_
                     ->query("list the persons",
                             "SELECT 1 FROM pg_auth_members m JOIN pg_roles p ON p.oid = m.member "
                             "JOIN pg_roles g ON g.oid = m.roleid WHERE p.rolname = ? AND g.rolname = ?",
                             {person.login, "retap_" + std::string(word(role))})
                     .empty()) {
                person.roles.push_back(role);
            }
        }
    }
    return all;
}

ClinicCheck PostgresSchool::verify() {
    const Transaction snapshot(*server_, checking, Transaction::Access::snapshot);
    ClinicCheck check;
    std::vector<Line> lines;
    std::set<std::string> gone;        // said to be erased by the journal
    std::set<std::string> told;        // each visit that is missing is told of once
    std::vector<std::string> findings; // after what is wrong with the journal itself
    const auto rows = server_->query(
        checking, "SELECT j.seq, j.day, j.uid, j.number, j.entry_digest, j.person, j.digest, e.digest, e.person, "
                  "x.digest, v.id FROM journal j LEFT JOIN visit v ON v.uid = j.uid "
                  "LEFT JOIN entry e ON e.visit_id = v.id AND e.number = j.number "
                  "LEFT JOIN erased x ON x.uid = j.uid ORDER BY j.seq");
    for (const SqlRow& row : rows) {
        lines.push_back(
            {row.integer(0), row.text(1), row.text(2), row.integer(3), row.text(4), row.text(5), row.text(6)});
        if (lines.back().number == 0) {
            gone.insert(lines.back().uid);
        }
    }
    for (std::size_t i = 0; i < rows.size(); ++i) {
        const Line& line = lines[i];
        const SqlRow& row = rows[i];
        const bool erased = gone.contains(line.uid);
        if (line.number == 0) {
            if (row.is_null(9) || row.text(9) != line.entry_digest) {
                findings.push_back("What is left of the visit " + line.uid + ", erased on " + line.day + " by " +
                                   line.person + ", is missing or was changed.");
            }
        } else if (row.is_null(7) && !erased) {
            if (row.is_null(10) && told.insert(line.uid).second) {
                findings.push_back("The visit " + line.uid + ", begun on " + line.day + " by " + line.person +
                                   ", is missing and was not erased by the coordinator.");
            } else if (!row.is_null(10)) {
                findings.push_back(called(line) + " is missing.");
            }
        } else if (!row.is_null(7) && (row.text(7) != line.entry_digest || row.text(8) != line.person)) {
            findings.push_back(called(line) + " is not what was written.");
        }
    }
    for (const SqlRow& row :
         server_->query(checking, "SELECT v.uid, e.number FROM entry e JOIN visit v ON v.id = e.visit_id WHERE NOT "
                                  "EXISTS (SELECT 1 FROM journal j WHERE j.uid = v.uid AND j.number = e.number) "
                                  "ORDER BY v.id, e.number")) {
        findings.push_back("Entry " + row.text(1) + " of the visit " + row.text(0) + " was written past the journal.");
    }
    follow(lines, check);
    for (std::string& finding : findings) {
        finding.front() = finding.front() == 'e' ? 'E' : finding.front();
        check.faults.push_back(std::move(finding));
    }
    return check;
}

} // namespace retap::visit
