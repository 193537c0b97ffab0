// Named texts in a fixed order: the written form of what an entry says.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace retap::visit {

/// Written as one "name=value" line each, with \\ and \n for backslash and line end, so that the record can be read in
/// any database browser and has exactly one form to take a digest of. Names are unique.
class Fields {
public:
    void add(std::string name, std::string value);
    /// Leaves out what is absent.
    void add(std::string name, const std::optional<std::string>& value);

    /// Throws StoreError when there is no such field: the record is damaged or from a newer program.
    [[nodiscard]] const std::string& get(std::string_view name) const;
    [[nodiscard]] std::optional<std::string> find(std::string_view name) const;
    [[nodiscard]] const std::vector<std::pair<std::string, std::string>>& all() const { return fields_; }

    [[nodiscard]] std::string text() const;
    /// Throws StoreError when `text` is not what text() writes.
    [[nodiscard]] static Fields read(std::string_view text);

    bool operator==(const Fields&) const = default;

private:
    std::vector<std::pair<std::string, std::string>> fields_;
};

} // namespace retap::visit
