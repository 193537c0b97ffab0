// Carries visits between the store at a chair and the one of the clinic.
#pragma once

#include "visit/carry_end.hpp"

#include <map>
#include <string>
#include <vector>

namespace retap::visit {

/// What is known at the chair of a visit in the clinic, from the last time that it answered.
struct Kept {
    int entries = 0;     ///< so many of ours are there
    std::string digest;  ///< of the last of them, here
    std::string apart;   ///< not empty: ours stands there beside another version, under this uid
    std::string waiting; ///< not empty: why something does not go there, as a sentence
    bool operator==(const Kept&) const = default;
};

/// By the uid of the visit. A small file beside the store at the chair, so that the state can be shown without a
/// network; without it the next carrying finds it out anew.
using CarryNotes = std::map<std::string, Kept>;
[[nodiscard]] CarryNotes read_carry_notes(const std::string& file);
/// For the owner alone. Throws InputError.
void write_carry_notes(const std::string& file, const CarryNotes& notes);

struct CarryReport {
    int up = 0; ///< entries
    int down = 0;
    std::vector<std::string> told; ///< sentences about visits that need somebody
};

/// Brings every visit of the chair up to the clinic, and what was added to it there down to the chair; in order, each
/// entry once, however often this is cut off and begun again. What both wrote after the same entry is kept as two
/// visits: the clinic's as it is, and the chair's whole beside it under a uid that follows from both (the same at every
/// try), with its digests formed anew. Visits that the chair does not have stay where they are. A visit that cannot go
/// is told of and does not keep others waiting. Throws StoreError when the clinic does not answer any more; `notes`
/// holds what was done until then.
CarryReport carry(CarryEnd& chair, CarryEnd& clinic, CarryNotes& notes);

/// Brings one visit of the clinic to the chair, whole; how many entries came. Throws InputError when there is none.
int fetch_visit(CarryEnd& chair, CarryEnd& clinic, VisitId id_in_clinic);

/// "kept in the clinic", "kept here, 3 entries wait", ...
[[nodiscard]] std::string where_kept(const Head& here, const CarryNotes& notes);

} // namespace retap::visit
