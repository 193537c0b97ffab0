// Visits as JSON: to be read, and to be carried to another store. Described in FORMATS.md.
#pragma once

#include "chart/agreement.hpp"
#include "report/json.hpp"
#include "report/next_json.hpp"
#include "visit/store.hpp"

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::report {

/// retap.visit/1 without the sounds. `latest_sound` is what is said of the latest look when its takes were compared
/// only now (visit::situation_of). Teeth are in ISO 3950 whatever the clinic uses; sentences are in the clinic's
/// numbering.
[[nodiscard]] Json visit_json(const visit::Visit& visit, std::optional<chart::SoundSays> latest_sound = {});
/// The same with the sounds and documents of its takes: everything that another store needs.
[[nodiscard]] Json export_json(const visit::Visit& visit, const visit::Parcel& parcel);
/// Reads what export_json wrote; `name` stands for the file in messages. Throws InputError when it is not such a
/// document. Whether the content is what was once written is for VisitStore::unpack to say.
[[nodiscard]] visit::Parcel parcel_from(std::string_view text, const std::string& name);

/// What was decided and is still to be done, as the member `still_open` of a visit; null when nothing is.
[[nodiscard]] Json open_json(const visit::Visit& visit);

/// retap.visits/1: a list.
[[nodiscard]] Json visits_json(const std::vector<visit::VisitSummary>& visits);
/// One comparison of two people's charts.
[[nodiscard]] Json agreement_json(const chart::Agreement& agreement);

} // namespace retap::report
