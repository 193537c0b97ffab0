#include "lesson/chart_pictures.hpp"

#include "chart/notation.hpp"
#include "report/chart_signs.hpp"
#include "report/html_page.hpp"
#include "report/markup.hpp"
#include "report/svg_frame.hpp"
#include "report/tooth_chart.hpp"
#include "report/visit_json.hpp"

#include <algorithm>
#include <array>

namespace retap::lesson {

namespace {

using report::Json;
using report::Markup;

constexpr double tooth_cell = 72.0; ///< width and height of an opened tooth
constexpr double edge = 6.0;

/// Towards the midline is to the right on the patient's right side, which is drawn on the left; cheeks are outside.
std::pair<double, double> on_cell(chart::Tooth tooth, const report::OnTooth& at) {
    const double from_left = tooth.side() == chart::Side::right ? 1.0 - at.distal : at.distal;
    const double down = tooth.arch() == chart::Arch::upper ? at.inward : 1.0 - at.inward;
    const double inner = tooth_cell - 2 * edge;
    return {edge + inner * from_left, edge + inner * down};
}

void opened_tooth(Markup& out, chart::Tooth tooth, const chart::MarkChart& marks, chart::Numbering numbering) {
    const std::string name = chart::name(tooth, numbering);
    out.open("figure", {{"class", "opened-tooth"}});
    const report::Frame frame{
        .width = tooth_cell, .height = tooth_cell, .left = 0, .right = 0, .top = 0, .bottom = tooth_cell};
    report::open_drawing(out, frame, "teeth", "Tooth " + name + ", opened", "Marks on one tooth, to be charted.");
    out.empty("rect", {{"class", "tooth"}, {"x", "2"}, {"y", "2"}, {"width", "68"}, {"height", "68"}, {"rx", "14"}});
    for (const chart::Spot spot : chart::spots_of(tooth)) {
        if (!chart::has_inclines(spot)) {
            continue;
        }
        const auto [x, y] = on_cell(tooth, report::place_on_tooth({spot, std::nullopt}));
        for (const auto& [dx, dy] : std::array{std::pair{4.0, 4.0}, std::pair{4.0, -4.0}}) {
            out.empty("line", {{"class", "cusp-tip"},
                               {"x1", report::coordinate(x - dx)},
                               {"y1", report::coordinate(y - dy)},
                               {"x2", report::coordinate(x + dx)},
                               {"y2", report::coordinate(y + dy)}});
        }
    }
    for (const chart::Mark& mark : marks.marks) {
        if (mark.tooth == tooth) {
            const auto [x, y] = on_cell(tooth, report::place_on_tooth(mark.place));
            report::mark_sign(out, mark, x, y);
        }
    }
    out.close("svg");
    out.element("figcaption", name).close("figure");
}

void drawing(Markup& out, const ChartLesson& lesson, const ChartPicture& picture) {
    const chart::Situation& s = lesson.patient.situation;
    out.open("section", {{"class", "chart-drawing"}, {"aria-label", picture.title}}).element("h3", picture.title);
    chart::LookCharts charts{.holds = std::nullopt, .marks = picture.marks};
    if (picture.name == "centric") {
        charts.holds = s.now.holds;
    }
    // The description of a drawing must not hold the chart in words: that is what is asked for.
    out.add(report::tooth_chart({.title = picture.title,
                                 .charts = charts,
                                 .treated = s.treated,
                                 .numbering = lesson.numbering,
                                 .described = false}));
    out.open("div", {{"class", "opened-teeth"}});
    for (const chart::Tooth tooth : chart::all_teeth()) {
        if (std::ranges::any_of(picture.marks.marks, [&](const chart::Mark& mark) { return mark.tooth == tooth; })) {
            opened_tooth(out, tooth, picture.marks, lesson.numbering);
        }
    }
    out.close("div").close("section");
}

void before_the_work(Markup& out, const ChartLesson& lesson) {
    const chart::Situation& s = lesson.patient.situation;
    out.open("section", {{"class", "chart-drawing"}, {"aria-label", "Before the work"}});
    out.element("h3", "Before the work, as it was charted");
    out.element("p", chart::write_holds(*s.before.holds, lesson.numbering) + ". " +
                         chart::write_marks(*s.before.marks, lesson.numbering) + ".");
    out.close("section");
}

Json agreements_json(const std::vector<ChartAgreement>& parts) {
    Json list = Json::array();
    for (const ChartAgreement& part : parts) {
        Json json{{"name", part.name}, {"counted", part.counted}, {"sentence", agreement_sentence(part)}};
        json.update(report::agreement_json(part.agreement));
        list.push_back(std::move(json));
    }
    return list;
}

} // namespace

std::string chart_drawings(const ChartLesson& lesson) {
    Markup out;
    before_the_work(out, lesson);
    for (const ChartPicture& picture : lesson.pictures) {
        drawing(out, lesson, picture);
    }
    out.element("p", {{"class", "quiet"}},
                "Crosses are the tips of cusps and edges. A mark on a cross is on the tip; beside it, it lies on the "
                "incline that faces there. The cheek is outside in both rows, the midline in the middle.");
    out.add(report::tooth_chart_key());
    return std::move(out).str();
}

std::string chart_lesson_page(const ChartLesson& lesson, const std::string& program) {
    Markup out;
    out.open("section", {{"class", "lesson"}, {"aria-label", lesson.title}});
    out.element("h2", lesson.title).element("p", lesson.words).add(chart_drawings(lesson));
    out.element("h3", "Questions").open("ol");
    for (const ChartQuestion& question : lesson.questions) {
        out.open("li").text(question.asked).open("ul");
        for (const std::string& choice : question.choices) {
            out.element("li", choice);
        }
        out.close("ul").close("li");
    }
    out.close("ol").close("section");
    return report::html_page({.title = "Chart lesson " + std::to_string(lesson.number) + ": " + lesson.title,
                              .when = "",
                              .program = program},
                             out.str());
}

Json chart_result_json(const ChartResult& result, const std::vector<ChartAgreement>* with_second) {
    Json items = Json::array();
    for (const ChartItem& item : result.items) {
        items.push_back({{"part", item.part},
                         {"asked", item.asked},
                         {"said", item.said},
                         {"is", item.is},
                         {"right", item.right},
                         {"because", item.because.empty() ? Json(nullptr) : Json(item.because)}});
    }
    return {{"right", result.right()},
            {"of", result.items.size()},
            {"passed", result.passed()},
            {"items", std::move(items)},
            {"agreement_with_drawing", agreements_json(result.with_drawing)},
            {"agreement_with_second", with_second == nullptr ? Json(nullptr) : agreements_json(*with_second)}};
}

Json chart_lesson_json(const ChartLesson& lesson, const ChartResult* result,
                       const std::vector<ChartAgreement>* with_second) {
    Json pictures = Json::array();
    for (const ChartPicture& picture : lesson.pictures) {
        pictures.push_back({{"name", picture.name}, {"title", picture.title}});
    }
    Json questions = Json::array();
    for (const ChartQuestion& question : lesson.questions) {
        questions.push_back({{"part", question.part}, {"asked", question.asked}, {"choices", question.choices}});
    }
    return {{"format", "retap.lesson-chart/1"},
            {"number", lesson.number},
            {"seed", lesson.seed},
            {"title", lesson.title},
            {"words", lesson.words},
            {"pictures", std::move(pictures)},
            {"questions", std::move(questions)},
            {"result", result == nullptr ? Json(nullptr) : chart_result_json(*result, with_second)}};
}

} // namespace retap::lesson
