// Permanent teeth and the two ways of numbering them.
#pragma once

#include <array>
#include <compare>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace retap::chart {

/// iso: ISO 3950, quadrant and place (11-18, 21-28, 31-38, 41-48). universal: 1-32, from the upper right third molar
/// round to the lower right one. 11-18, 21-28, 31 and 32 are numbers in both and mean different teeth, so nothing here
/// reads a number without being told which.
enum class Numbering { iso, universal };
[[nodiscard]] std::string_view word(Numbering numbering); ///< "iso", "universal"
[[nodiscard]] std::optional<Numbering> numbering_from(std::string_view word);

enum class Arch { upper, lower };
enum class Side { right, left }; ///< the patient's
[[nodiscard]] std::string_view word(Side side);
[[nodiscard]] Side opposite(Side side);

enum class ToothKind { incisor, canine, premolar, molar };

/// A permanent tooth. Ordered as charts are read: upper row from the patient's right to left, then the lower row.
class Tooth {
public:
    /// `place` counts from the midline, 1 (central incisor) to 8 (third molar); asserted.
    Tooth(Arch arch, Side side, int place);
    /// Nothing when `number` is no permanent tooth in that numbering.
    [[nodiscard]] static std::optional<Tooth> from_number(int number, Numbering numbering);

    [[nodiscard]] int number(Numbering numbering) const;
    [[nodiscard]] Arch arch() const { return index_ < 16 ? Arch::upper : Arch::lower; }
    [[nodiscard]] Side side() const { return column() < 8 ? Side::right : Side::left; }
    [[nodiscard]] int place() const { return column() < 8 ? 8 - column() : column() - 7; }
    /// 0 (right third molar) to 15 (left third molar), along the arch.
    [[nodiscard]] int column() const { return index_ % 16; }
    [[nodiscard]] ToothKind kind() const;
    /// Incisors and canines are front, premolars and molars back.
    [[nodiscard]] bool front() const { return place() <= 3; }
    auto operator<=>(const Tooth&) const = default;

private:
    explicit Tooth(int index) : index_(index) {}
    int index_; ///< 0..15 upper, 16..31 lower
};

/// All 32, in chart order.
[[nodiscard]] const std::vector<Tooth>& all_teeth();

[[nodiscard]] std::string name(Tooth tooth, Numbering numbering); ///< "16"
[[nodiscard]] std::string plain_name(Tooth tooth);                ///< "upper right first molar"
/// "16, 15 and 24"; "no tooth" when there is none.
[[nodiscard]] std::string list(const std::vector<Tooth>& teeth, Numbering numbering);

/// The teeth it meets in a regular (Class I) arch, each tooth against two: an upper tooth meets its namesake and the
/// next one back, a lower tooth its namesake and the next one forward. The upper third molar and the lower central
/// incisor have one. Fails with missing teeth, Class II or III, crossbite and tooth-to-one-tooth schemes: a default
/// that the person who charts may overrule.
/// Scheme as in Nelson, Wheeler's Dental Anatomy, Physiology and Occlusion, and Okeson, both from memory.
[[nodiscard]] std::vector<Tooth> opponents(Tooth tooth);
/// The tooth of the same name in the other arch: 16 and 46.
[[nodiscard]] Tooth namesake(Tooth tooth);

} // namespace retap::chart
