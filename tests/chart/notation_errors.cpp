#include "chart/notation.hpp"
#include "trials.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <random>
#include <string>
#include <vector>

using namespace retap::chart;

namespace {

/// What reading gives: the fault, and where. The caret in `text` marks the place and is taken out before reading.
struct Wrong {
    std::string text; ///< with ^ before the character at fault
    std::string fault;
};

template <class Read>
void expect(const Wrong& wrong, Read read) {
    const std::size_t at = wrong.text.find('^');
    REQUIRE(at != std::string::npos);
    const std::string text = wrong.text.substr(0, at) + wrong.text.substr(at + 1);
    CAPTURE(text);
    bool thrown = false;
    try {
        (void)read(text);
    } catch (const NotationError& error) {
        thrown = true;
        CHECK(error.fault() == wrong.fault);
        CHECK(error.at() == at);
        CHECK(error.exit_code() == 3);
    }
    CHECK(thrown);
}

HoldChart holds(const std::string& text) {
    return read_holds(text, Numbering::iso);
}
MarkChart marks(const std::string& text) {
    return read_marks(text, Numbering::iso);
}

} // namespace

TEST_CASE("each fault in a hold chart is named at its character") {
    const std::vector<Wrong> wrongs = {
        {"^", "it is empty; write, for example, hold 16 26; slide 36"},
        {" ;, ^", "it is empty; write, for example, hold 16 26; slide 36"},
        {"^16 17", "say first what the film did: hold, slide, open or untestable"},
        {"hold 16 ^grip 17", "\"grip\" is not a film result; use hold, slide, open or untestable"},
        {"hold 16 ^? 17", "expected a tooth number, or hold, slide, open or untestable"},
        {"hold ^slide 16", "no tooth follows \"hold\""},
        {"hold 16; open^", "no tooth follows \"open\""},
        {"hold 16 ^19",
         "19 is not a tooth in ISO numbering (11-18, 21-28, 31-38, 41-48); in Universal numbering it is the "
         "lower left first molar: if that is meant, start with \"universal:\""},
        {"hold ^49", "49 is not a tooth in ISO numbering (11-18, 21-28, 31-38, 41-48)"},
        {"hold ^55", "55 is a milk tooth; charts are for permanent teeth"},
        {"hold ^161", "a tooth number has one or two digits (11-18, 21-28, 31-38, 41-48)"},
        {"hold ^1.66", "an ISO number has two digits, such as 1.6 or 16"},
        {"hold 16 26 ^46", "16/46 is charted twice"},
        {"hold 16; open ^17..15", "16/46 is charted twice"},
        {"hold 16/^17", "16 and 17 cannot meet; a pair is an upper and a lower tooth of the same place or near it"},
        {"hold 16/^36", "16 and 36 cannot meet; a pair is an upper and a lower tooth of the same place or near it"},
        {"hold 16/^ 46", "a tooth number is missing here"},
        {"hold 16..^", "a tooth number is missing here"},
        {"hold 16..^46", "a row of teeth stays in one arch; 16 and 46 are not in the same one"},
        {"hold 14^-17", "for a row of teeth write two dots, such as 14..18"},
        {"universal: hold ^33",
         "33 is not a tooth in Universal numbering (1-32); in ISO numbering it is the lower left "
         "canine: if that is meant, start with \"iso:\""},
    };
    for (const Wrong& wrong : wrongs) {
        expect(wrong, holds);
    }
}

TEST_CASE("each fault in a mark chart is named at its character") {
    const std::vector<Wrong> wrongs = {
        {"^", "it is empty; write, for example, centric 16 MP CF; or centric none"},
        {"^MP",
         "\"mp\" is not a stage (centric, working, non-working, protrusive), and no tooth was given for it to be a "
         "place on"},
        {"^sideways 16 MP",
         "\"sideways\" is not a stage (centric, working, non-working, protrusive), and no tooth was given "
         "for it to be a place on"},
        {"16 ^CX", "\"CX\" is not a place on 16 (upper right first molar); it has MB DB MP DP CF MF DF MMR DMR"},
        {"11 ^CF", "\"CF\" is not a place on 11 (upper right central incisor); it has E PF MMR DMR"},
        {"16^", "no place was given for 16"},
        {"16 ^26 CF", "no place was given for 16"},
        {"centric 16 ^working 26 MB", "no place was given for 16"},
        {"centric ^working 16 MB", "nothing follows \"centric\"; if paper was used and left nothing, write none"},
        {"16 CF working^", "nothing follows \"working\"; if paper was used and left nothing, write none"},
        {"16 CF^/in", "a central fossa has no inclines"},
        {"16 MB/^up", "an incline is /in, /out, /mes or /dis"},
        {"16 MB/^", "an incline is /in, /out, /mes or /dis"},
        {"16 CF+^+", "the weight of the mark is given twice"},
        {"16 CF+*^-", "the weight of the mark is given twice"},
        {"16 CF*^*", "where the mark lies is given twice; * is on the restoration, ~ beside it"},
        {"16 CF~+^*", "where the mark lies is given twice; * is on the restoration, ~ beside it"},
        {"16 CF ^again",
         "\"again\" says that centric was marked again over a movement; no movement (working, non-working, protrusive) "
         "stands before it"},
        {"16 CF working none again ^again", "\"again\" is given twice"},
        {"16 CF MP ^CF", "the central fossa of 16 is marked twice in this stage"},
        {"16 CF; 26 CF; 16 ^CF+", "the central fossa of 16 is marked twice in this stage"},
        {"centric 16 CF; working none; ^centric 26 CF", "there are two centric groups"},
        {"16 CF ^none", "\"none\" stands alone in its group"},
        {"working none ^16 MB", "this group was said to be none"},
        {"non-^centric 16 MB", "expected non-working"},
        {"16 CF ^!", "expected a tooth number, a place on a tooth, or a stage"},
        {"16 CF ^3 MB",
         "3 is not a tooth in ISO numbering (11-18, 21-28, 31-38, 41-48); in Universal numbering it is the "
         "upper right first molar: if that is meant, start with \"universal:\""},
    };
    for (const Wrong& wrong : wrongs) {
        expect(wrong, marks);
    }
}

TEST_CASE("each fault in a list of teeth is named at its character") {
    const auto teeth = [](const std::string& text) { return read_teeth(text, Numbering::iso); };
    expect({"16 ^16", "16 is listed twice"}, teeth);
    expect({"^", "a tooth number is missing here"}, teeth);
    expect({"16 ^x", "a tooth number is missing here"}, teeth);
    expect({"^C", "letters are milk teeth; charts are for permanent teeth (1-32)"},
           [](const std::string& text) { return read_teeth(text, Numbering::universal); });
}

TEST_CASE("the caret stands under the character, in its own line, whatever bytes come before it") {
    const auto message = [](const std::string& text) {
        try {
            (void)holds(text);
        } catch (const NotationError& error) {
            return std::string(error.what());
        }
        return std::string();
    };
    CHECK(message("hold 16\nslide 19 27") ==
          "The chart cannot be read: 19 is not a tooth in ISO numbering (11-18, 21-28, "
          "31-38, 41-48); in Universal numbering it is the lower left first molar: if "
          "that is meant, start with \"universal:\".\n"
          "  slide 19 27\n"
          "        ^");
    // a two-byte letter is one column
    const std::string accented = message("hold 16 \xC3\xA9 17");
    CHECK(accented.find("\n  hold 16 \xC3\xA9 17\n          ^") != std::string::npos);
}

TEST_CASE("any text is read or refused, never worse (random texts, seed 7)") {
    std::mt19937 random(7);
    const std::vector<std::string> pieces = {"hold", "slide",       " ",  "16",      "..",      "/",
                                             "46",   "1",           ".",  "centric", "none",    "CF",
                                             "+",    "-",           "*",  "non",     "working", ":",
                                             "iso",  "99999999999", "\n", "\xC3",    "MB/in",   std::string(1, '\0'),
                                             ";"};
    const int rounds = retap::test::trials(20000);
    int read = 0;
    for (int round = 0; round < rounds; ++round) {
        std::string text;
        for (auto n = random() % 9; n > 0; --n) {
            text += pieces[random() % pieces.size()];
        }
        CAPTURE(text);
        for (const auto& attempt :
             {std::function<void()>([&] { (void)holds(text); }), std::function<void()>([&] { (void)marks(text); })}) {
            try {
                attempt();
                ++read;
            } catch (const NotationError& error) {
                REQUIRE(error.at() <= text.size());
            }
        }
    }
    CHECK(read > rounds / 200); // the pieces do make charts
}
