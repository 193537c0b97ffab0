// Carrying a visit from one store to another as JSON.
#include "error.hpp"
#include "report/base64.hpp"
#include "report/visit_json.hpp"

#include <cstdint>

namespace retap::report {

namespace {

std::string_view as_text(const std::vector<std::byte>& bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

std::vector<std::byte> as_bytes(const std::string& text) {
    const auto* first = reinterpret_cast<const std::byte*>(text.data());
    return {first, first + text.size()};
}

constexpr std::uint64_t most_entries = 1000000000;

class ParcelReader {
public:
    explicit ParcelReader(std::string name) : name_(std::move(name)) {}

    visit::Parcel read(std::string_view text) const {
        try {
            const Json json = Json::parse(text);
            if (!json.is_object() || json.value("format", "") != "retap.visit/1") {
                refuse("it is not an exported visit");
            }
            if (!json.contains("sounds")) {
                refuse("it was written by 'retap visit show' and has no sounds in it; use 'retap visit export'");
            }
            visit::Parcel parcel{json.at("uid").get<std::string>(), {}, {}};
            for (const Json& entry : json.at("entries")) {
                parcel.entries.push_back(entry_from(entry));
            }
            for (const Json& sound : json.at("sounds")) {
                parcel.takes.emplace_back(number_in(sound, "entry"), take_from(sound));
            }
            return parcel;
        } catch (const Json::parse_error& fault) {
            refuse("it is no exported visit: it breaks off or is no JSON at character " + std::to_string(fault.byte) +
                   ". Give a file that 'retap visit export' wrote");
        } catch (const Json::exception&) { // its words are for programmers
            refuse("it is no whole exported visit: parts of it are missing or of another kind. Export it again");
        } catch (const StoreError& fault) {
            refuse(fault.what());
        }
    }

private:
    [[noreturn]] void refuse(const std::string& why) const {
        throw InputError("Cannot take in '" + name_ + "': " + why + ".");
    }

    /// Of an entry. A number that does not fit must not come out as another one.
    int number_in(const Json& json, const char* name) const {
        const Json& number = json.at(name);
        const bool fits = number.is_number_unsigned() && number.get<std::uint64_t>() <= most_entries;
        if (!fits) {
            refuse("'" + number.dump() + "' is not the number of an entry");
        }
        return number.get<int>();
    }

    visit::Entry entry_from(const Json& json) const {
        visit::Entry entry{};
        entry.number = number_in(json, "number");
        entry.stamp = {json.at("at").get<std::string>(), json.at("by").get<std::string>()};
        if (!json.at("look").is_null()) {
            entry.look = visit::look_from(json.at("look").get<std::string>());
            if (!entry.look) {
                refuse("it has a look of an unknown name");
            }
        }
        if (!json.at("corrects").is_null()) {
            entry.correction = visit::Correction{number_in(json, "corrects"), json.at("reason").get<std::string>()};
        }
        if (const auto from = json.find("inherited"); from != json.end()) {
            entry.inherited = visit::Inherited{from->at("visit").get<std::string>(),
                                               number_in(*from, "entry"),
                                               {from->at("at").get<std::string>(), from->at("by").get<std::string>()}};
        }
        visit::Fields fields;
        for (const auto& [field, value] : json.at("body").items()) {
            fields.add(field, value.get<std::string>());
        }
        entry.body = visit::body_from(json.at("kind").get<std::string>(), fields);
        entry.digest = json.at("digest").get<std::string>();
        return entry;
    }

    visit::TakeContent take_from(const Json& json) const {
        const auto flac = from_base64(json.at("flac_base64").get<std::string>());
        if (!flac) {
            refuse("a sound in it is not Base64");
        }
        return {as_bytes(*flac), json.at("analysis").get<std::string>(), json.at("settings").get<std::string>()};
    }

    std::string name_;
};

} // namespace

Json export_json(const visit::Visit& visit, const visit::Parcel& parcel) {
    Json json = visit_json(visit);
    json["sounds"] = Json::array();
    for (const auto& [number, take] : parcel.takes) {
        json["sounds"].push_back({{"entry", number},
                                  {"flac_base64", base64(as_text(take.flac))},
                                  {"analysis", take.analysis},
                                  {"settings", take.settings}});
    }
    return json;
}

visit::Parcel parcel_from(std::string_view text, const std::string& name) {
    return ParcelReader(name).read(text);
}

} // namespace retap::report
