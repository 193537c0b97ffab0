#include "report/html_report.hpp"

#include "report/assets.hpp"
#include "report/base64.hpp"
#include "report/html_page.hpp"
#include "report/html_sections.hpp"
#include "report/markup.hpp"

namespace retap::report {

std::string data_uri(const std::optional<Sound>& sound) {
    return sound ? "data:" + sound->media_type + ";base64," + base64(sound->bytes) : std::string();
}

std::string html_page(const ReportHeading& heading, std::string_view body) {
    Markup out;
    out.add("<!DOCTYPE html>\n").open("html", {{"lang", "en"}}).open("head");
    out.empty("meta", {{"charset", "utf-8"}});
    out.empty("meta", {{"http-equiv", "Content-Security-Policy"},
                       {"content", "default-src 'none'; style-src 'unsafe-inline'; script-src 'unsafe-inline'; "
                                   "media-src data:; img-src data:; base-uri 'none'; form-action 'none'"}});
    out.empty("meta", {{"name", "viewport"}, {"content", "width=device-width, initial-scale=1"}});
    out.empty("meta", {{"name", "color-scheme"}, {"content", "light dark"}});
    out.empty("link", {{"rel", "icon"}, {"href", "data:,"}});
    out.element("title", heading.title);
    out.open("style").add(style_css()).close("style").close("head");
    out.open("body", {{"class", "report"}}).open("main");
    out.open("header", {{"class", "report-head"}}).element("h1", heading.title);
    if (!heading.when.empty()) {
        out.element("p", {{"class", "quiet"}}, heading.when);
    }
    out.close("header");
    out.add(body).add(cautions_section());
    out.open("footer", {{"class", "report-foot"}});
    out.element("p", {{"class", "quiet"}},
                (heading.program.empty() ? std::string() : "Made by " + heading.program + ". ") +
                    "A supplement to film holds and paper marks.");
    out.close("footer").close("main");
    out.open("script").add(playback_js()).close("script");
    out.close("body").close("html").add("\n");
    return std::move(out).str();
}

std::string comparison_report(const compare::Comparison& comparison, const ReportSounds& sounds,
                              const ReportHeading& heading) {
    return html_page(heading, comparison_section(comparison, {data_uri(sounds.before), data_uri(sounds.after)}));
}

std::string take_report(const dsp::TakeAnalysis& take, const std::optional<Sound>& sound,
                        const ReportHeading& heading) {
    return html_page(heading, take_section(take, data_uri(sound)));
}

} // namespace retap::report
