// What is usually next, and who signed.
#include "report/markup.hpp"
#include "report/visit_sections.hpp"

namespace retap::report {

namespace {

void decisions(Markup& out, const visit::Visit& visit) {
    for (const auto& decision : visit.decisions) {
        out.element("p", "Decided " + readable_time(decision.stamp.at) + " by " + decision.stamp.by + ": " +
                             std::string(word(decision.content.action)) +
                             (decision.content.words.empty() ? "" : ", " + decision.content.words));
    }
}

} // namespace

std::string next_section(const visit::Visit& visit, std::optional<chart::SoundSays> latest_sound) {
    const auto advice =
        chart::next_steps(chart::Assessment(situation_of(visit, visit.latest(), latest_sound)), visit.numbering());
    Markup out;
    out.open("section", {{"class", "next-steps"}, {"aria-label", "What is usually next"}});
    out.element("h2", "What is usually next");
    if (advice.empty()) {
        out.element("p", "No rule fits; the supervising clinician decides.");
    } else {
        out.open("ol");
        for (const chart::Advice& step : advice) {
            out.open("li").element("p", {{"class", "suggestion"}}, step.rule->suggestion);
            std::string because = std::string(step.rule->when);
            for (const std::string& evidence : step.evidence) {
                because += " " + evidence;
            }
            out.element("p", {{"class", "quiet"}},
                        because + " " + std::string(step.rule->why) + " Defers to " +
                            std::string(step.rule->defers_to) + ".");
            out.close("li");
        }
        out.close("ol");
    }
    out.element("p", {{"class", "quiet"}},
                "Guidance as usually taught. The supervising clinician and local rules come first.");
    decisions(out, visit);
    out.close("section");
    return std::move(out).str();
}

std::string sign_off(const visit::Visit& visit) {
    Markup out;
    out.open("section", {{"class", "sign-off"}, {"aria-label", "Sign-off"}}).element("h2", "Sign-off");
    if (visit.signature) {
        const auto& signature = *visit.signature;
        out.element("p",
                    "Signed by " + signature.stamp.by + ", " + signature.content.role + ", " +
                        readable_time(signature.stamp.at) +
                        (signature.content.comment.empty() ? "." : ": \u201C" + signature.content.comment + "\u201D"));
        out.open("p", {{"class", "digest"}}).text("Digest over everything in the visit: ");
        out.element("code", visit.digest()).close("p");
        out.element("p", {{"class", "quiet"}},
                    "With this digest any later change to the record shows: retap visit verify VISIT --digest DIGEST.");
    } else {
        out.element("p", "Not signed: this visit is open, and the report is a draft.");
    }
    out.close("section");
    return std::move(out).str();
}

} // namespace retap::report
