#include "validate/take_files.hpp"

#include "aside_file.hpp"
#include "take_file.hpp"

#include <sstream>

namespace retap::validate {

void write_take_files(const std::filesystem::path& folder, const Family& family, const std::string& what,
                      const bite::Scenario& scenario, const bite::Take& take) {
    const auto room = folder / name(family);
    std::filesystem::create_directories(room);
    const std::string stem = std::to_string(scenario.patient) + "-" + what;
    tools::write_take(room / (stem + ".wav"), take, audio::SoundFormat::wav_float);
    const bite::Patient patient = bite::draw_patient(scenario.patient, scenario.mechanics);
    std::ostringstream truth;
    truth.precision(9);
    truth << R"({"family":")" << name(family) << R"(","mechanics":")" << bite::name(family.mechanics)
          << R"(","sound":")" << name(family.sound) << R"(","patient":)" << scenario.patient << R"(,"what":")" << what
          << R"(","take":)" << scenario.take << R"(,"seat":)" << scenario.seat << R"(,"usual_peak_dbfs":)"
          << scenario.usual_peak_dbfs << R"(,"peak_over_noise_db":)"
          << scenario.peak_over_noise_db.value_or(patient.peak_over_noise_db) << R"(,"speed_m_per_s":)"
          << patient.tapping.speed_m_per_s << "," << tools::truth_members(scenario, take) << "}\n";
    write_file_whole(room / (stem + ".json"), truth.str());
}

} // namespace retap::validate
