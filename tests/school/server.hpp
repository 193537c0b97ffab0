// The PostgreSQL server that CTest started for these tests (server.py).
#pragma once

#include "visit/school.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

struct pg_conn;

namespace retap::test {

/// Statements past the store, as somebody could give them who has a login.
class RawPostgres {
public:
    explicit RawPostgres(const std::string& address);
    ~RawPostgres();
    RawPostgres(const RawPostgres&) = delete;
    RawPostgres& operator=(const RawPostgres&) = delete;
    RawPostgres(RawPostgres&&) = delete;
    RawPostgres& operator=(RawPostgres&&) = delete;

    /// What went wrong; empty when nothing did.
    std::string run(const std::string& sql);
    /// The first column of the first row; empty without one.
    [[nodiscard]] std::string value(const std::string& sql);

private:
    pg_conn* connection_;
};

/// Databases of its own on that server, gone with the server.
class TestServer {
public:
    TestServer();

    /// If not, the test is told to be skipped and returns.
    [[nodiscard]] bool there() const { return !folder_.empty(); }
    /// The folder with the server's socket and data.
    [[nodiscard]] const std::string& folder() const { return folder_; }
    /// postgresql://LOGIN@/DATABASE?host=FOLDER; the database is made when it is asked for first.
    [[nodiscard]] std::string address(const std::string& login = "owner", const std::string& database = "clinic");

    /// A store that is set up in that database, as it is reached by a person who is everything at once and signs as
    /// B. Teacher.
    [[nodiscard]] std::string clinic(const std::string& database = "clinic");
    /// The same store for a new person: the address for their own login.
    [[nodiscard]] std::string person(const std::string& name, visit::ClinicRole role,
                                     const std::string& database = "clinic");

private:
    std::string folder_;
    std::string mark_;
    std::vector<std::string> made_;
    int persons_ = 0;
};

} // namespace retap::test
