#include "visit/postgres_address.hpp"

#include "error.hpp"
#include "visit/soci_database.hpp"

#include <cstdlib>
#include <sstream>
#include <utility>

namespace retap::visit {

namespace {

bool is_loopback(const std::string& host) {
    return host.empty() || host.front() == '/' || host.front() == '@' || host == "localhost" || host == "::1" ||
           host.starts_with("127.");
}

/// Several hosts may stand in a row, with commas.
bool all_loopback(const std::string& hosts) {
    std::istringstream each(hosts);
    for (std::string host; std::getline(each, host, ',');) {
        if (!is_loopback(host)) {
            return false;
        }
    }
    return true;
}

std::string quoted(const std::string& text) {
    std::string out = "'";
    for (const char c : text) {
        if (c == '\'' || c == '\\') {
            out += '\\';
        }
        out += c;
    }
    return out + "'";
}

std::string from_environment(const char* name) {
    const char* value = std::getenv(name);
    return value == nullptr ? "" : value;
}

} // namespace

PostgresAddress::PostgresAddress(const std::string& address) {
    char* why = nullptr;
    PQconninfoOption* options = PQconninfoParse(address.c_str(), &why);
    if (options == nullptr) {
        std::string text = why == nullptr ? "there is not enough memory" : why;
        PQfreemem(why);
        while (text.ends_with('\n')) {
            text.pop_back();
        }
        throw UsageError("--store is no address of a PostgreSQL server: " + text +
                         ". Write it as postgresql://LOGIN@HOST/DATABASE or postgresql://?service=NAME.");
    }
    for (const PQconninfoOption* option = options; option->keyword != nullptr; ++option) {
        if (option->val != nullptr) {
            said_[option->keyword] = option->val;
        }
    }
    PQconninfoFree(options);
}

std::string PostgresAddress::value(const std::string& key) const {
    const auto found = said_.find(key);
    return found == said_.end() ? std::string() : found->second;
}

std::string PostgresAddress::for_connecting() const {
    auto all = said_;
    for (const auto& [key, usual] :
         {std::pair{"keepalives_idle", "20"}, std::pair{"keepalives_interval", "5"}, std::pair{"keepalives_count", "4"},
          std::pair{"tcp_user_timeout", "40000"}, std::pair{"application_name", "retap"}}) {
        all.try_emplace(key, usual);
    }
    std::string text;
    for (const auto& [key, said] : all) {
        text += (text.empty() ? "" : " ") + key + "=" + quoted(said);
    }
    return text;
}

std::string PostgresAddress::shown() const {
    const std::string user = value("user");
    const std::string port = value("port");
    const std::string service = value("service");
    std::string host = value("host").empty() ? value("hostaddr") : value("host");
    return "'postgresql://" + (user.empty() ? "" : user + "@") + host + (port.empty() ? "" : ":" + port) + "/" +
           value("dbname") + (service.empty() ? "" : "?service=" + service) + "'";
}

bool PostgresAddress::on_this_computer() const {
    if (!value("hostaddr").empty()) { // then the host is only the name that a certificate is checked for
        return all_loopback(value("hostaddr"));
    }
    if (!value("host").empty()) {
        return all_loopback(value("host"));
    }
    if (!value("service").empty() || !from_environment("PGSERVICE").empty()) {
        return false;
    }
    return all_loopback(from_environment("PGHOSTADDR")) && all_loopback(from_environment("PGHOST"));
}

} // namespace retap::visit
