// SQLite itself, past the store: to build old files and to tamper with new ones.
#pragma once

#include <filesystem>
#include <sqlite3.h>
#include <stdexcept>
#include <string>

namespace retap::test {

class RawSqlite {
public:
    explicit RawSqlite(const std::filesystem::path& file) {
        if (sqlite3_open(file.c_str(), &handle_) != SQLITE_OK) {
            throw std::runtime_error("cannot open " + file.string());
        }
    }
    ~RawSqlite() { sqlite3_close(handle_); }
    RawSqlite(const RawSqlite&) = delete;
    RawSqlite& operator=(const RawSqlite&) = delete;
    RawSqlite(RawSqlite&&) = delete;
    RawSqlite& operator=(RawSqlite&&) = delete;

    /// Any number of statements; returns the message of the one that fails, empty when none does.
    std::string run(const std::string& sql) {
        char* message = nullptr;
        sqlite3_exec(handle_, sql.c_str(), nullptr, nullptr, &message);
        std::string text = message == nullptr ? "" : message;
        sqlite3_free(message);
        return text;
    }
    /// First column of the first row.
    std::string value(const std::string& sql) {
        std::string found;
        sqlite3_exec(
            handle_, sql.c_str(),
            [](void* out, int, char** values, char**) {
                *static_cast<std::string*>(out) = values[0] == nullptr ? "NULL" : values[0];
                return 1;
            },
            &found, nullptr);
        return found;
    }

private:
    sqlite3* handle_ = nullptr;
};

} // namespace retap::test
