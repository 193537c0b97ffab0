#include "audio/tapping_cautions.hpp"
#include "report/html_sections.hpp"
#include "report/markup.hpp"

#include <array>
#include <string_view>

namespace retap::report {

std::string cautions_section() {
    // Basis: infection control, Kohn et al. 2003, MMWR 52(RR-17); no diagnosis of joint or muscle disorders, AADOCR
    // policy statement on TMD; irreversibility, Okeson ch. 17; numbness, Enkling et al. and the studies on oral
    // thickness sense; likeness is not proof of contact, Tanaka et al. 2006, Zhang et al. 2014, J Oral Rehabil
    // 1983;10:473.
    static constexpr std::array<std::string_view, 7> cautions{
        "Sound supports film holds and paper marks. It does not replace them, and it is not a diagnosis.",
        "Alike does not prove equal contact, and different does not prove a high spot: a moved pick-up, posture, "
        "effort "
        "or the first taps of a run can do both.",
        "Record before and after in one sitting, with the pick-up untouched and the same effort.",
        "A numb patient judges less well what is high. Check again when feeling is back.",
        "Adjusting teeth cannot be undone. It is for the licensed clinician, under local rules.",
        audio::tapping_caution,
        "Clean the pick-up or cover it afresh for each patient, by local protocol. Recordings are health data.",
    };
    Markup out;
    out.open("section", {{"class", "cautions"}, {"aria-label", "Cautions"}});
    out.element("h2", "Keep in mind").open("ul");
    for (const std::string_view caution : cautions) {
        out.element("li", caution);
    }
    out.close("ul").close("section");
    return std::move(out).str();
}

} // namespace retap::report
