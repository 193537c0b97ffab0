// Where a PostgreSQL server is, as it is said with --store.
#pragma once

#include <map>
#include <string>

namespace retap::visit {

/// Read by PostgreSQL's own library. Built only with RETAP_WITH_POSTGRESQL.
class PostgresAddress {
public:
    /// Throws UsageError for what is no address.
    explicit PostgresAddress(const std::string& address);

    /// "key='value' ...", with the password if there is one, and with signs of life asked for on the network, so that a
    /// server that is gone without a word is noticed within a minute.
    [[nodiscard]] std::string for_connecting() const;
    /// Without password; for messages.
    [[nodiscard]] std::string shown() const;
    /// A Unix socket, this computer's own address or its name: nothing goes over a network. A service, whose file says
    /// where it is, counts as being elsewhere.
    [[nodiscard]] bool on_this_computer() const;

private:
    [[nodiscard]] std::string value(const std::string& key) const;

    std::map<std::string, std::string> said_;
};

} // namespace retap::visit
