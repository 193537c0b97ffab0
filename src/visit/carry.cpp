#include "visit/carry.hpp"

#include "aside_file.hpp"
#include "error.hpp"
#include "visit/chain.hpp"
#include "visit/sha256.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace retap::visit {

namespace {

constexpr std::size_t at_once = 20; ///< entries; a cut costs the way of so many, and no more

std::size_t common(const std::vector<Entry>& a, const std::vector<Entry>& b) {
    std::size_t same = 0;
    while (same < a.size() && same < b.size() && a[same].digest == b[same].digest) {
        ++same;
    }
    return same;
}

/// The same entries under another uid, whose digests follow from it.
std::vector<Entry> chained_anew(const std::string& uid, std::vector<Entry> entries) {
    std::string before;
    for (Entry& entry : entries) {
        entry.digest = chained_digest(before, uid, entry.number, entry);
        before = entry.digest;
    }
    return entries;
}

std::string uid_apart(const std::string& uid, const Entry& first_of_its_own) {
    return sha256("retap.apart/1\n" + uid + "\n" + first_of_its_own.digest).substr(0, uid.size());
}

/// Sends what `to` does not have yet, some at a time; where these are refused, those before the one that is.
/// Counts them in `sent`, also those before a fault.
void send(CarryEnd& from, VisitId id, CarryEnd& to, const std::string& uid, const std::vector<Entry>& entries,
          std::size_t there, int& sent, const std::function<void(std::size_t)>& reached) {
    reached(there);
    const auto content = [&](int entry) { return from.content_of_take(id, entry); };
    const auto bring = [&](std::size_t end) {
        sent += to.take_in(
            uid,
            {entries.begin() + static_cast<std::ptrdiff_t>(there), entries.begin() + static_cast<std::ptrdiff_t>(end)},
            content);
        there = end;
        reached(there);
    };
    for (std::size_t step = at_once; there < entries.size();) {
        try {
            bring(std::min(entries.size(), there + step));
        } catch (const Error&) {
            if (step == 1 || !to.answers()) {
                throw;
            }
            step = 1;
        }
    }
}

std::string named(const Head& here) {
    return "Visit " + std::to_string(here.id);
}

bool is_signature(const Entry& entry) {
    return std::holds_alternative<Signed>(entry.body);
}

class OneVisit {
public:
    OneVisit(CarryEnd& chair, CarryEnd& clinic, const Head& here, Kept& kept, CarryReport& report)
        : chair_(chair), clinic_(clinic), here_(here), kept_(kept), report_(report) {}

    void carry(const std::optional<Head>& there) {
        kept_.waiting.clear();
        if (there && there->digest == here_.digest) {
            kept_ = {here_.entries, here_.digest, {}, {}};
            return;
        }
        ours_ = chair_.entries_of_visit(here_.id);
        if (!there) {
            if (clinic_.was_erased(here_.uid)) {
                wait("was erased in the clinic and is still kept here. Erase it here too: retap visit erase " +
                     std::to_string(here_.id));
                return;
            }
            up(here_.uid, ours_, 0);
            return;
        }
        const auto theirs = clinic_.entries_of_visit(there->id);
        const std::size_t same = common(ours_, theirs);
        if (same == theirs.size()) {
            up(here_.uid, ours_, same);
        } else if (same == ours_.size()) {
            send(clinic_, there->id, chair_, here_.uid, theirs, same, report_.down, [](std::size_t) {});
            kept_ = {static_cast<int>(theirs.size()), theirs.back().digest, {}, {}};
        } else if (is_signature(ours_[same]) && is_signature(theirs[same])) {
            kept_ = {static_cast<int>(same), ours_[same - 1].digest, {}, {}};
            wait("is signed here by " + ours_[same].stamp.by + " and in the clinic by " + theirs[same].stamp.by +
                 ", who is known there by login. Everything before is the same; the clinic's signature counts there.");
        } else {
            keep_both(*there, same);
        }
    }

private:
    void wait(const std::string& why) {
        kept_.waiting = named(here_) + " " + why;
        report_.told.push_back(kept_.waiting);
    }

    void up(const std::string& uid, const std::vector<Entry>& entries, std::size_t there) {
        send(chair_, here_.id, clinic_, uid, entries, there, report_.up, [&](std::size_t reached) {
            kept_.entries = static_cast<int>(reached);
            kept_.digest = reached == 0 ? "" : ours_.at(reached - 1).digest;
        });
    }

    void keep_both(const Head& there, std::size_t same) {
        const std::string uid = uid_apart(here_.uid, ours_.at(same));
        const auto entries = chained_anew(uid, ours_);
        const auto beside = clinic_.head(uid);
        if (beside && beside->entries > here_.entries) {
            wait("was continued in the clinic under a number of its own there (" + std::to_string(beside->id) +
                 "), beside visit " + std::to_string(there.id) + ". Go on with it there.");
            return;
        }
        kept_.apart = uid;
        up(uid, entries, beside ? static_cast<std::size_t>(beside->entries) : 0);
        const auto now = clinic_.head(uid);
        report_.told.push_back(named(here_) + " was continued elsewhere too, after entry " + std::to_string(same) +
                               ". Both are kept in the clinic: there as visit " + std::to_string(there.id) +
                               ", and from here as visit " + std::to_string(now ? now->id : 0) +
                               ". Compare them and go on with one.");
    }

    CarryEnd& chair_;
    CarryEnd& clinic_;
    const Head& here_;
    Kept& kept_;
    CarryReport& report_;
    std::vector<Entry> ours_;
};

} // namespace

CarryReport carry(CarryEnd& chair, CarryEnd& clinic, CarryNotes& notes) {
    CarryReport report;
    std::map<std::string, Head> there;
    for (Head& head : clinic.heads()) {
        std::string uid = head.uid;
        there.emplace(std::move(uid), std::move(head));
    }
    for (const Head& here : chair.heads()) {
        const auto found = there.find(here.uid);
        Kept& kept = notes[here.uid];
        try {
            OneVisit(chair, clinic, here, kept, report)
                .carry(found == there.end() ? std::nullopt : std::optional(found->second));
        } catch (const Error& fault) {
            if (!clinic.answers()) {
                throw;
            }
            kept.waiting =
                named(here) + " is kept here from entry " + std::to_string(kept.entries + 1) + " on: " + fault.what();
            report.told.push_back(kept.waiting);
        }
    }
    return report;
}

int fetch_visit(CarryEnd& chair, CarryEnd& clinic, VisitId id_in_clinic) {
    const auto heads = clinic.heads();
    const auto there =
        std::find_if(heads.begin(), heads.end(), [&](const Head& head) { return head.id == id_in_clinic; });
    if (there == heads.end()) {
        throw InputError("There is no visit " + std::to_string(id_in_clinic) +
                         " in the clinic, or your login may not see it.");
    }
    const auto entries = clinic.entries_of_visit(there->id);
    int brought = 0;
    send(clinic, there->id, chair, there->uid, entries, 0, brought, [](std::size_t) {});
    return brought;
}

std::string where_kept(const Head& here, const CarryNotes& notes) {
    const auto found = notes.find(here.uid);
    if (found == notes.end() || found->second.entries == 0) {
        return "kept here";
    }
    const Kept& kept = found->second;
    const std::string apart = kept.apart.empty() ? "" : ", beside another version";
    if (kept.digest == here.digest) {
        return "kept in the clinic" + apart;
    }
    const int waiting = here.entries - kept.entries;
    return "kept here, " + std::to_string(waiting) + (waiting == 1 ? " entry waits" : " entries wait") + apart;
}

// One line for each visit: uid, number, digest, uid apart or -, and why it waits, to the end of the line.
CarryNotes read_carry_notes(const std::string& file) {
    CarryNotes notes;
    std::ifstream in(file);
    for (std::string line; std::getline(in, line);) {
        std::istringstream words(line);
        std::string uid;
        Kept kept;
        if (words >> uid >> kept.entries >> kept.digest >> kept.apart) {
            std::getline(words >> std::ws, kept.waiting);
            kept.digest = kept.digest == "-" ? "" : kept.digest;
            kept.apart = kept.apart == "-" ? "" : kept.apart;
            notes.emplace(uid, std::move(kept));
        }
    }
    return notes;
}

void write_carry_notes(const std::string& file, const CarryNotes& notes) {
    std::string text;
    for (const auto& [uid, kept] : notes) {
        std::string waiting = kept.waiting;
        std::replace(waiting.begin(), waiting.end(), '\n', ' ');
        text += uid + " " + std::to_string(kept.entries) + " " + (kept.digest.empty() ? "-" : kept.digest) + " " +
                (kept.apart.empty() ? "-" : kept.apart) + " " + waiting + "\n";
    }
    write_file_whole(file, text);
    std::filesystem::permissions(file, std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
}

} // namespace retap::visit
