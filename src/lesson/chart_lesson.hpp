// Charting as a lesson: a drawn mouth is charted, its marks are named, and what is next is said. What is right is read
// from the rules that advise at the chair, and from nothing else.
#pragma once

#include "chart/agreement.hpp"
#include "lesson/chart_patients.hpp"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace retap::lesson {

/// One drawing of the look after the work. The kind of movement is not drawn: it is asked for.
struct ChartPicture {
    std::string name;       ///< "centric", "right", "left", "forward": what the jaw did on the paper
    std::string title;      ///< "Paper of another colour, the jaw sliding to the patient's right"
    chart::MarkChart marks; ///< all of them as centric ones, so that each is drawn by the same sign
};

struct ChartQuestion {
    std::string part; ///< "role", "carries", "movement", "next"
    std::string asked;
    std::vector<std::string> choices;
    std::size_t right = 0;
    std::string because;
};

struct ChartLesson {
    int number = 1;
    std::uint64_t seed = 1;
    chart::Numbering numbering = chart::Numbering::iso;
    ChartPatient patient;
    std::string title;
    std::string words; ///< what is known beside the drawings
    std::vector<ChartPicture> pictures;
    std::vector<ChartQuestion> questions;
};

/// The seed fixes whether the mouth is mirrored and how the choices of the last question stand.
[[nodiscard]] ChartLesson chart_lesson(int number, std::uint64_t seed, chart::Numbering numbering);

/// What a learner charted and said. Marks are by picture, in its order, their movement not said.
struct ChartAnswers {
    chart::HoldChart holds;
    std::vector<chart::MarkChart> marks;
    std::vector<std::size_t> choices; ///< one for each question
};
/// From the typed notation. Throws chart::NotationError for a chart, and InputError when there are more or fewer
/// answers than were asked for, or no such choice.
[[nodiscard]] ChartAnswers chart_answers(const ChartLesson& lesson, const std::string& holds,
                                         const std::vector<std::string>& marks,
                                         const std::vector<std::size_t>& choices);

/// One thing that was asked, with what was said.
struct ChartItem {
    std::string part;  ///< "holds", "marks", or the part of a question
    std::string asked; ///< "film at 16/46", "central fossa of 16", or the question
    std::string said;
    std::string is;
    bool right = false;
    std::string because{};
};

/// How far two observers of one mouth agree.
struct ChartAgreement {
    std::string name;    ///< "holds", "centric contact", "weight"
    std::string counted; ///< what its cases are
    chart::Agreement agreement;
};

struct ChartResult {
    std::vector<ChartItem> items;
    std::vector<ChartAgreement> with_drawing;
    [[nodiscard]] std::size_t right() const;
    /// Whoever got one thing wrong is asked to look again: there is no half of a right conclusion.
    [[nodiscard]] bool passed() const { return right() == items.size(); }
};
[[nodiscard]] ChartResult check_charts(const ChartLesson& lesson, const ChartAnswers& answers);

/// Two learners' charts of the same patient.
[[nodiscard]] std::vector<ChartAgreement> agreement_between(const ChartAnswers& first, const ChartAnswers& second);
/// "holds: 7 of 8 the same, Cohen's kappa 0.82".
[[nodiscard]] std::string agreement_sentence(const ChartAgreement& part);

} // namespace retap::lesson
