// The store that a clinic shares: who works there, and whether it is all there.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::visit {

/// What a person may do: a student writes the visits that they opened; a supervisor signs any of the clinic's besides;
/// a coordinator reads everything and erases. One person may be several.
enum class ClinicRole { student, supervisor, coordinator };
[[nodiscard]] std::string_view word(ClinicRole role);
[[nodiscard]] std::optional<ClinicRole> clinic_role_from(std::string_view word);

struct Person {
    std::string login; ///< the server checks it
    std::string name;  ///< the one that they sign with
    std::vector<ClinicRole> roles;
};

/// The last link of the clinic's chain on a day (UTC): it covers everything that was written until then.
struct DayDigest {
    std::string day;
    std::int64_t written = 0; ///< on that day, erasures among it
    std::string digest;
};

struct ClinicCheck {
    std::vector<std::string> faults; ///< as sentences
    std::vector<DayDigest> days;
};

/// Makes the tables on a server, or brings older ones up to date. All of these throw StoreError, and UsageError for a
/// file or when this program was built without PostgreSQL.
void set_up_server(const std::string& place);
/// Gives a role to a person; the login is made when the server does not know it, without a password. A person who is
/// there keeps name and roles. For the owner of the store, who may make roles.
void add_person(const std::string& place, const Person& person);
[[nodiscard]] std::vector<Person> persons(const std::string& place);
/// Follows the chain over everything that was ever written, and looks for what is missing, was changed, or was written
/// past it. For supervisors and coordinators. Sounds are checked visit by visit (VisitStore::verify).
[[nodiscard]] ClinicCheck verify_clinic(const std::string& place);

} // namespace retap::visit
