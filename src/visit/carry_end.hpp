// One of the two stores that visits are carried between.
#pragma once

#include "visit/store.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace retap::visit {

/// How far a visit has got in a store: the number of its last entry, and its digest, which covers everything before.
struct Head {
    VisitId id = 0;
    std::string uid;
    int entries = 0;
    std::string digest;
};

/// Functions throw as those of VisitStore.
class CarryEnd {
public:
    CarryEnd() = default;
    virtual ~CarryEnd() = default;
    CarryEnd(const CarryEnd&) = delete;
    CarryEnd& operator=(const CarryEnd&) = delete;
    CarryEnd(CarryEnd&&) = delete;
    CarryEnd& operator=(CarryEnd&&) = delete;

    /// Of all visits that may be seen, by uid.
    [[nodiscard]] virtual std::vector<Head> heads() = 0;
    /// Nothing when there is no such visit, or none that may be seen.
    [[nodiscard]] virtual std::optional<Head> head(const std::string& uid) = 0;
    [[nodiscard]] virtual bool was_erased(const std::string& uid) = 0;
    [[nodiscard]] virtual std::vector<Entry> entries_of_visit(VisitId id) = 0;
    [[nodiscard]] virtual TakeContent content_of_take(VisitId id, int entry) = 0;
    /// Adds entries that were written elsewhere, as they are: they have to follow on what is here, digest by digest, as
    /// far as they are not here already, which are passed over. A visit that is not here begins with its first. All of
    /// it happens or none. Throws InputError when they do not follow. Returns how many were added.
    virtual int take_in(const std::string& uid, const std::vector<Entry>& entries,
                        const std::function<TakeContent(int entry)>& content) = 0;
    /// Whether it can be asked anything now.
    [[nodiscard]] virtual bool answers() = 0;
};

} // namespace retap::visit
