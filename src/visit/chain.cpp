#include "visit/chain.hpp"

#include "visit/sha256.hpp"

namespace retap::visit {

std::string chained_digest(std::string_view digest_before, std::string_view uid, int number, const NewEntry& entry) {
    std::string content = "retap.entry/1\n";
    const auto part = [&content](std::string_view text) {
        content += std::to_string(text.size());
        content += ':';
        content += text;
        content += '\n';
    };
    part(digest_before);
    part(uid);
    part(std::to_string(number));
    part(kind_of(entry.body));
    part(entry.look ? text(*entry.look) : "");
    part(entry.stamp.at);
    part(entry.stamp.by);
    part(entry.correction ? std::to_string(entry.correction->of) : "");
    part(entry.correction ? entry.correction->reason : "");
    part(fields_of(entry.body).text());
    if (entry.inherited) { // one part more, and not an empty one: digests written before there was such a thing stay
        part(fields_of(*entry.inherited).text());
    }
    return sha256(content);
}

std::vector<std::string> faults_of_chain(std::string_view uid, const std::vector<Entry>& entries) {
    std::vector<std::string> faults;
    if (entries.empty()) {
        return {"The visit has no entries."};
    }
    if (!std::holds_alternative<Opened>(entries.front().body)) {
        faults.emplace_back("The visit does not begin with its opening.");
    }
    std::string before;
    for (std::size_t i = 0; i < entries.size(); ++i) {
        const Entry& entry = entries[i];
        const int expected = static_cast<int>(i) + 1;
        if (entry.number != expected) {
            faults.push_back("Entry " + std::to_string(expected) + " is missing.");
            return faults;
        }
        if (chained_digest(before, uid, entry.number, entry) != entry.digest) {
            faults.push_back("Entry " + std::to_string(entry.number) + " (" + std::string(kind_of(entry.body)) +
                             ") is not what was written.");
        }
        if (std::holds_alternative<Signed>(entry.body) && i + 1 < entries.size()) {
            faults.emplace_back("Something was added after the visit was signed.");
        }
        before = entry.digest;
    }
    return faults;
}

} // namespace retap::visit
