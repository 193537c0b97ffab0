// The written form of each kind of entry. Charts are written in ISO numbering whatever the clinic uses.
#include "chart/notation.hpp"
#include "error.hpp"
#include "visit/entry.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace retap::visit {

namespace {

constexpr auto iso = chart::Numbering::iso;

[[noreturn]] void damaged(const std::string& what) {
    throw StoreError("The visit store holds a record that cannot be read: " + what + ".");
}

/// The shortest text that reads back to the same number.
std::string number_text(double value) {
    std::array<char, 32> text{};
    const auto [end, error] = std::to_chars(text.begin(), text.end(), value);
    return {text.begin(), end};
}

template <class Number>
Number number_from(const std::string& text) {
    Number value{};
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error != std::errc() || end != text.data() + text.size()) {
        damaged("'" + text + "' is no number");
    }
    return value;
}

double likeness_from(const std::string& text) {
    const auto value = number_from<double>(text);
    if (!(value >= 0.0 && value <= 100.0)) { // what is no number at all is not within either
        damaged("'" + text + "' is no likeness");
    }
    return value;
}

std::string numbers_text(const std::vector<int>& numbers) {
    std::string text;
    for (const int number : numbers) {
        text += (text.empty() ? "" : " ") + std::to_string(number);
    }
    return text;
}

std::vector<int> numbers_from(std::string_view text) {
    std::vector<int> numbers;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find(' '), text.size());
        numbers.push_back(number_from<int>(std::string(text.substr(0, end))));
        text.remove_prefix(std::min(end + 1, text.size()));
    }
    return numbers;
}

template <class Value>
Value known(const std::optional<Value>& value, const std::string& text) {
    if (!value) {
        damaged("'" + text + "' is not known here");
    }
    return *value;
}

std::optional<compare::Verdict> verdict_from(std::string_view text) {
    for (const auto verdict : {compare::Verdict::alike, compare::Verdict::different, compare::Verdict::unclear}) {
        if (text == compare::word(verdict)) {
            return verdict;
        }
    }
    return std::nullopt;
}

Fields write(const Opened& opened) {
    Fields fields;
    fields.add("label", opened.label);
    fields.add("procedure", opened.procedure);
    fields.add("teeth", chart::write_teeth(opened.treated, iso));
    fields.add("numbering", std::string(chart::word(opened.numbering)));
    fields.add("worker", opened.worker);
    fields.add("supervisor", opened.supervisor);
    fields.add("follows", opened.follows);
    return fields;
}

Fields write(const HoldsCharted& charted) {
    Fields fields;
    fields.add("holds", chart::write_holds(charted.holds, iso));
    return fields;
}

Fields write(const MarksCharted& charted) {
    Fields fields;
    fields.add("marks", chart::write_marks(charted.marks, iso));
    return fields;
}

Fields write(const TakeKept& take) {
    Fields fields;
    fields.add("name", take.name);
    fields.add("program", take.program);
    fields.add("sound_sha256", take.sound_sha256);
    fields.add("analysis_sha256", take.analysis_sha256);
    fields.add("settings_sha256", take.settings_sha256);
    return fields;
}

Fields write(const FeelNoted& noted) {
    Fields fields;
    if (noted.numb) {
        fields.add("numb", std::string(*noted.numb ? "yes" : "no"));
    }
    fields.add("feel", std::string(chart::word(noted.feel)));
    fields.add("words", noted.words);
    return fields;
}

Fields write(const Compared& compared) {
    Fields fields;
    fields.add("verdict", std::string(compare::word(compared.verdict)));
    fields.add("score", number_text(compared.likeness.score));
    fields.add("low", number_text(compared.likeness.low));
    fields.add("high", number_text(compared.likeness.high));
    fields.add("sentence", compared.sentence);
    fields.add("before_takes", numbers_text(compared.before_takes));
    fields.add("now_takes", numbers_text(compared.now_takes));
    fields.add("program", compared.program);
    if (compared.first_contact != chart::FirstContact::not_told) {
        fields.add("first_contact", std::string(chart::word(compared.first_contact)));
    }
    if (compared.lead_change_ms) {
        fields.add("lead_change_ms", number_text(*compared.lead_change_ms));
    }
    return fields;
}

Fields write(const Decided& decided) {
    Fields fields;
    fields.add("action", std::string(word(decided.action)));
    fields.add("words", decided.words);
    return fields;
}

Fields write(const CrossbiteSaid& said) {
    Fields fields;
    fields.add("teeth", chart::write_crossbite(said.crossbite, iso));
    return fields;
}

Fields write(const WarningNoted& noted) {
    Fields fields;
    fields.add("about", noted.warning.about);
    fields.add("raised_with", noted.warning.raised_with);
    fields.add("decided", noted.warning.decided);
    return fields;
}

Fields write(const Withdrawn& /*withdrawn*/) {
    return {};
}

Fields write(const Signed& signature) {
    Fields fields;
    fields.add("role", signature.role);
    fields.add("comment", signature.comment);
    return fields;
}

Opened read_opened(const Fields& fields) {
    Opened opened;
    opened.label = fields.get("label");
    opened.procedure = fields.get("procedure");
    opened.treated = chart::read_teeth(fields.get("teeth"), iso);
    opened.numbering = known(chart::numbering_from(fields.get("numbering")), fields.get("numbering"));
    opened.worker = fields.get("worker");
    opened.supervisor = fields.get("supervisor");
    opened.follows = fields.find("follows");
    return opened;
}

TakeKept read_take(const Fields& fields) {
    return {fields.get("name"), fields.get("program"), fields.get("sound_sha256"), fields.get("analysis_sha256"),
            fields.get("settings_sha256")};
}

FeelNoted read_feel(const Fields& fields) {
    FeelNoted noted;
    if (const auto numb = fields.find("numb")) {
        noted.numb = *numb == "yes";
    }
    noted.feel = known(chart::feel_from(fields.get("feel")), fields.get("feel"));
    noted.words = fields.get("words");
    return noted;
}

Compared read_comparison(const Fields& fields) {
    Compared compared;
    compared.verdict = known(verdict_from(fields.get("verdict")), fields.get("verdict"));
    compared.likeness = {likeness_from(fields.get("score")), likeness_from(fields.get("low")),
                         likeness_from(fields.get("high"))};
    compared.sentence = fields.get("sentence");
    compared.before_takes = numbers_from(fields.get("before_takes"));
    compared.now_takes = numbers_from(fields.get("now_takes"));
    compared.program = fields.get("program");
    if (const auto first = fields.find("first_contact")) {
        compared.first_contact = known(chart::first_contact_from(*first), *first);
    }
    if (const auto lead = fields.find("lead_change_ms")) {
        const auto value = number_from<double>(*lead);
        if (!std::isfinite(value)) {
            damaged("'" + *lead + "' is no lead");
        }
        compared.lead_change_ms = value;
    }
    return compared;
}

Body read_body(std::string_view kind, const Fields& fields) {
    if (kind == "opened") {
        return read_opened(fields);
    }
    if (kind == "holds") {
        return HoldsCharted{chart::read_holds(fields.get("holds"), iso)};
    }
    if (kind == "marks") {
        return MarksCharted{chart::read_marks(fields.get("marks"), iso)};
    }
    if (kind == "take") {
        return read_take(fields);
    }
    if (kind == "feel") {
        return read_feel(fields);
    }
    if (kind == "comparison") {
        return read_comparison(fields);
    }
    if (kind == "decision") {
        return Decided{known(action_from(fields.get("action")), fields.get("action")), fields.get("words")};
    }
    if (kind == "withdrawn") {
        return Withdrawn{};
    }
    if (kind == "signed") {
        return Signed{fields.get("role"), fields.get("comment")};
    }
    if (kind == "crossbite") {
        return CrossbiteSaid{chart::read_crossbite(fields.get("teeth"), iso)};
    }
    if (kind == "warning") {
        return WarningNoted{{fields.get("about"), fields.get("raised_with"), fields.get("decided")}};
    }
    damaged("an entry of the kind '" + std::string(kind) + "' is not known here");
}

} // namespace

Fields fields_of(const Body& body) {
    return std::visit([](const auto& content) { return write(content); }, body);
}

Fields fields_of(const Inherited& inherited) {
    Fields fields;
    fields.add("visit", inherited.uid);
    fields.add("entry", std::to_string(inherited.entry));
    fields.add("at", inherited.stamp.at);
    fields.add("by", inherited.stamp.by);
    return fields;
}

Inherited inherited_from(const Fields& fields) {
    return {fields.get("visit"), number_from<int>(fields.get("entry")), {fields.get("at"), fields.get("by")}};
}

Body body_from(std::string_view kind, const Fields& fields) {
    try {
        return read_body(kind, fields);
    } catch (const chart::NotationError& error) {
        damaged("a chart, " + error.fault());
    }
}

} // namespace retap::visit
