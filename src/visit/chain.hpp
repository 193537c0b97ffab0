// Makes later changes to a visit show.
#pragma once

#include "visit/entry.hpp"

#include <string>
#include <string_view>
#include <vector>

namespace retap::visit {

/// The digest of an entry: SHA-256 over the digest of the one before it (empty for the first), the visit's uid, the
/// entry's number and everything it says, each part with its length before it so that no two visits share a form. A
/// take's sound and documents are covered by the digests inside its entry. So the last digest covers the whole visit.
/// What it shows: any change, removal or reordering, against a digest that was noted elsewhere (the printed report, an
/// export). What it cannot show: somebody with the file and this program who rewrites every digest after a change.
[[nodiscard]] std::string chained_digest(std::string_view digest_before, std::string_view uid, int number,
                                         const NewEntry& entry);

/// Faults as sentences, none when the entries are whole: numbers from 1 without a gap, each digest right, "opened"
/// first, nothing after "signed".
[[nodiscard]] std::vector<std::string> faults_of_chain(std::string_view uid, const std::vector<Entry>& entries);

} // namespace retap::visit
