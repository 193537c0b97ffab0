// Charts and teeth as they are typed: what is read is written so that it is read again as the same.
#include "chart/notation.hpp"
#include "error.hpp"
#include "target.hpp"

#include <string>

namespace {

using namespace retap;

template <class Read, class Write>
void there_and_back(std::string_view text, chart::Numbering numbering, Read read, Write write) {
    try {
        const std::string written = write(read(text, numbering), numbering);
        fuzz::must(write(read(written, numbering), numbering) == written, "what is written is read as the same");
    } catch (const Error&) { // the answer to what is no notation
    }
}

} // namespace

int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string_view text = fuzz::text_of(data, size);
    for (const auto numbering : {chart::Numbering::iso, chart::Numbering::universal}) {
        there_and_back(text, numbering, chart::read_holds, chart::write_holds);
        there_and_back(text, numbering, chart::read_marks, chart::write_marks);
        there_and_back(text, numbering, chart::read_teeth, chart::write_teeth);
    }
    return 0;
}
