// The people of a clinic and the chain over everything it wrote, on the server. Built only with RETAP_WITH_POSTGRESQL.
#pragma once

#include "visit/school.hpp"

#include <memory>
#include <string>
#include <string_view>

namespace retap::visit {

class PostgresDatabase;

/// One connection; what the functions of school.hpp do.
class PostgresSchool {
public:
    explicit PostgresSchool(const std::string& address);
    void add(const Person& person);
    [[nodiscard]] std::vector<Person> persons();
    [[nodiscard]] ClinicCheck verify();

private:
    std::shared_ptr<PostgresDatabase> server_;
};

/// The link of the clinic's chain that follows `before` (empty for the first): SHA-256 over the link before, the day,
/// the visit's uid, the entry's number (0 for an erasure), its digest and the login of who wrote it, each with its
/// length before it as in chained_digest. The server computes the same when it writes (postgres_schema).
[[nodiscard]] std::string clinic_digest(std::string_view before, std::string_view day, std::string_view uid,
                                        std::int64_t number, std::string_view entry_digest, std::string_view person);

} // namespace retap::visit
