#include "server.hpp"

#include "skipped.hpp"

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <libpq-fe.h>
#include <stdexcept>
#include <unistd.h>

namespace retap::test {

RawPostgres::RawPostgres(const std::string& address) : connection_(PQconnectdb(address.c_str())) {
    (void)run("SET client_min_messages = warning");
}

RawPostgres::~RawPostgres() {
    PQfinish(connection_);
}

std::string RawPostgres::run(const std::string& sql) {
    PGresult* result = PQexec(connection_, sql.c_str());
    const ExecStatusType status = PQresultStatus(result);
    const bool done = status == PGRES_COMMAND_OK || status == PGRES_TUPLES_OK;
    std::string why = done ? "" : PQerrorMessage(connection_);
    PQclear(result);
    return why;
}

std::string RawPostgres::value(const std::string& sql) {
    PGresult* result = PQexec(connection_, sql.c_str());
    std::string value = PQntuples(result) > 0 ? PQgetvalue(result, 0, 0) : PQerrorMessage(connection_);
    PQclear(result);
    return value;
}

TestServer::TestServer() {
    const char* note = std::getenv("RETAP_TEST_SERVER");
    std::string why = "run it through CTest, which starts a server";
    if (note != nullptr) {
        std::ifstream lines(note);
        std::getline(lines, folder_);
        if (folder_ == "none") {
            std::getline(lines, why);
            folder_.clear();
        }
    }
    if (folder_.empty()) {
        skipped(why);
    }
    static int number = 0; // tests run at the same time, each in a process of its own
    mark_ = "_" + std::to_string(getpid()) + "_" + std::to_string(++number);
}

std::string TestServer::address(const std::string& login, const std::string& database) {
    const std::string name =
        database + mark_; // stays until the server goes: dropping costs more than the rest of a test
    if (std::find(made_.begin(), made_.end(), name) == made_.end()) {
        RawPostgres owner("postgresql://owner@/postgres?host=" + folder_);
        if (const std::string why = owner.run("CREATE DATABASE " + name + " TEMPLATE template0"); !why.empty()) {
            throw std::runtime_error("cannot make a database: " + why);
        }
        made_.push_back(name);
    }
    return "postgresql://" + login + "@/" + name + "?host=" + folder_;
}

std::string TestServer::clinic(const std::string& database) {
    const std::string login = "everything" + mark_;
    visit::set_up_server(address("owner", database));
    using visit::ClinicRole;
    visit::add_person(address("owner", database),
                      {login, "B. Teacher", {ClinicRole::student, ClinicRole::supervisor, ClinicRole::coordinator}});
    return address(login, database);
}

std::string TestServer::person(const std::string& name, visit::ClinicRole role, const std::string& database) {
    const std::string login = std::string(visit::word(role)) + std::to_string(++persons_) + mark_;
    visit::set_up_server(address("owner", database));
    visit::add_person(address("owner", database), {login, name, {role}});
    return address(login, database);
}

} // namespace retap::test
