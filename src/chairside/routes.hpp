// What the page can ask for and do, one function per area.
#pragma once

#include "chairside/event_hub.hpp"
#include "chairside/hearing_desk.hpp"
#include "chairside/lesson_shelf.hpp"
#include "chairside/recording_desk.hpp"
#include "chairside/router.hpp"
#include "chairside/visit_desk.hpp"

#include <string>

namespace retap::chairside {

/// The page itself: its files, and the report's style and script.
void add_page_routes(Router& router);
/// Lists, charts, details, undo, sign-off.
void add_visit_routes(Router& router, VisitDesk& visits);
/// Takes, their sound, comparisons and reports.
void add_sound_routes(Router& router, VisitDesk& visits, const std::string& program);
/// Live events, recording, state, cautions for tapping.
void add_live_routes(Router& router, VisitDesk& visits, RecordingDesk& recording, EventHub& events,
                     const std::string& program);

/// The bench, the guided lessons and the listening tests.
void add_learn_routes(Router& router, LessonShelf& lessons, HearingDesk& hearing);

/// "12" of a path. Throws InputError when it is no number of a visit.
[[nodiscard]] visit::VisitId visit_of(const std::string& part);
/// "after2" of a path. Throws InputError.
[[nodiscard]] visit::LookName look_of(const std::string& part);
/// The members of a JSON body. Throws InputError when it is not a JSON object.
[[nodiscard]] report::Json body_of(const HttpRequest& request);

} // namespace retap::chairside
