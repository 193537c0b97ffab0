// Sound devices as the commands tell them on a machine that has none, or is set up badly.
#include "report/json.hpp"
#include "run_program.hpp"

#include <cstdlib>
#include <doctest/doctest.h>
#include <string>
#include <utility>
#include <vector>

using namespace retap;
using namespace retap::test;

namespace {

/// Environment variables for the programs that are run while it lives.
class Environment {
public:
    explicit Environment(const std::vector<std::pair<std::string, std::string>>& variables) {
        for (const auto& [name, value] : variables) {
            const char* before = std::getenv(name.c_str());
            before_.emplace_back(name, before == nullptr ? "" : before);
            setenv(name.c_str(), value.c_str(), 1);
        }
    }
    ~Environment() {
        for (const auto& [name, value] : before_) {
            value.empty() ? unsetenv(name.c_str()) : setenv(name.c_str(), value.c_str(), 1);
        }
    }
    Environment(const Environment&) = delete;
    Environment& operator=(const Environment&) = delete;
    Environment(Environment&&) = delete;
    Environment& operator=(Environment&&) = delete;

private:
    std::vector<std::pair<std::string, std::string>> before_;
};

} // namespace

// PortAudio 19.6 ends a program by an assertion on the first two; found by trying configurations on Debian 12.
TEST_CASE("an ALSA configuration without a default device is told in words, not by an abort") {
    const TempFolder folder;
    put_bytes(folder / "empty.conf", "");
    put_bytes(folder / "opens.conf", "pcm.some_input { type null }\n");
    put_bytes(folder / "default.conf", "pcm.!default { type null }\n");
    for (const auto& known : {std::pair{"empty.conf", 0U}, {"opens.conf", 1U}, {"default.conf", 1U}}) {
        const std::string file = known.first;
        const unsigned devices = known.second;
        CAPTURE(file);
        const Environment here({{"ALSA_CONFIG_PATH", (folder / file).string()},
                                {"JACK_NO_START_SERVER", "1"},
                                {"JACK_DEFAULT_SERVER", "none-of-ours"},
                                {"XDG_CONFIG_HOME", folder.path().string()},
                                {"XDG_STATE_HOME", folder.path().string()}});
        const Outcome list = run_retap(folder.path(), {"devices", "--json"});
        CHECK(list.status == 0);
        CHECK(list.err.empty());
        CHECK(report::Json::parse(list.out)["devices"].size() == devices);
    }
    const Environment none({{"ALSA_CONFIG_PATH", (folder / "empty.conf").string()},
                            {"JACK_NO_START_SERVER", "1"},
                            {"JACK_DEFAULT_SERVER", "none-of-ours"},
                            {"XDG_CONFIG_HOME", folder.path().string()},
                            {"XDG_STATE_HOME", folder.path().string()}});
    CHECK(run_retap(folder.path(), {"devices"}).out ==
          "There is no sound device. Plug the pick-up in and try again.\n");
    const Outcome record = run_retap(folder.path(), {"record", "take.wav", "--seconds", "2"});
    CHECK(record.status == 4);
    CHECK(record.err == "retap: Cannot record from the default device: the system names none. There is no device to "
                        "record from now; plug one in and try again.\n");
    CHECK_FALSE(std::filesystem::exists(folder / "take.wav"));
}
