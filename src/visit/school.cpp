#include "visit/school.hpp"

#include "error.hpp"
#include "visit/open_store.hpp"
#ifdef RETAP_WITH_POSTGRESQL
#include "visit/postgres_school.hpp"
#include "visit/postgres_store.hpp"
#endif

namespace retap::visit {

namespace {

void check_is_shared(const std::string& place) {
    if (!is_server(place)) {
        throw UsageError("A store that a clinic shares lies on a PostgreSQL server. Say where: "
                         "--store postgresql://LOGIN@HOST/DATABASE");
    }
#ifndef RETAP_WITH_POSTGRESQL
    (void)open_store(place); // says why it cannot
#endif
}

} // namespace

std::string_view word(ClinicRole role) {
    switch (role) {
    case ClinicRole::student:
        return "student";
    case ClinicRole::supervisor:
        return "supervisor";
    case ClinicRole::coordinator:
        return "coordinator";
    }
    return "";
}

std::optional<ClinicRole> clinic_role_from(std::string_view said) {
    for (const auto role : {ClinicRole::student, ClinicRole::supervisor, ClinicRole::coordinator}) {
        if (word(role) == said) {
            return role;
        }
    }
    return std::nullopt;
}

void set_up_server(const std::string& place) {
    check_is_shared(place);
#ifdef RETAP_WITH_POSTGRESQL
    PostgresStore::set_up(place);
#endif
}

void add_person(const std::string& place, const Person& person) {
    check_is_shared(place);
#ifdef RETAP_WITH_POSTGRESQL
    PostgresSchool(place).add(person);
#else
    (void)person;
#endif
}

std::vector<Person> persons(const std::string& place) {
    check_is_shared(place);
#ifdef RETAP_WITH_POSTGRESQL
    return PostgresSchool(place).persons();
#else
    return {};
#endif
}

ClinicCheck verify_clinic(const std::string& place) {
    check_is_shared(place);
#ifdef RETAP_WITH_POSTGRESQL
    return PostgresSchool(place).verify();
#else
    return {};
#endif
}

} // namespace retap::visit
