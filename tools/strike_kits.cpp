#include "strike_kits.hpp"

#include <array>

namespace retap::tools {

namespace {

constexpr const char* kits_of_drums = "hydrogen-drumkits";
const std::vector<std::string> from_softest{"Softest", "Soft", "Med", "Hard", "Hardest"};

struct KitSource {
    const char* name;
    const char* package;
    const char* before; // of the path, up to what tells the layers apart
    const char* after;
    std::vector<std::string> layers;
};

std::vector<KitSource> kit_sources() {
    const std::vector<std::string> five{"0", "1", "2", "3", "4"};
    const std::vector<std::string> four{"0", "1", "2", "3"};
    const std::vector<std::string> rims{"1", "2", "3", "4"};
    return {{"rim click", kits_of_drums, "ForzeeStereo/RimClick-", ".wav", five},
            {"stick", kits_of_drums, "ForzeeStereo/Stick-", ".wav", four},
            {"snare off, rim", kits_of_drums, "ForzeeStereo/SnareOffRim-", ".wav", five},
            {"snare rim", kits_of_drums, "ForzeeStereo/SnareRim-", ".wav", five},
            {"rim", kits_of_drums, "Millo_MultiLayered2/rim_0", ".flac", rims},
            {"clave", kits_of_drums, "Gimme A Hand 1.0/Clave-", ".wav", from_softest},
            {"wood block", kits_of_drums, "Gimme A Hand 1.0/WoodBlock-", ".wav", from_softest},
            {"second side stick", kits_of_drums, "The Black Pearl 1.0/PearlSideStick-", ".wav", from_softest},
            {"side stick", "hydrogen-data", "GMRockKit/SideStick-", ".wav", from_softest}};
}

} // namespace

std::vector<StrikeKit> load_kits(const std::filesystem::path& share) {
    std::vector<StrikeKit> kits;
    for (const KitSource& source : kit_sources()) {
        StrikeKit kit{.name = source.name};
        for (const std::string& layer : source.layers) {
            const std::string path = "hydrogen/data/drumkits/" + std::string(source.before) + layer + source.after;
            kit.layers.push_back(load_strike(share, source.package, path).sound);
        }
        kits.push_back(std::move(kit));
    }
    return kits;
}

} // namespace retap::tools
