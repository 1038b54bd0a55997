// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <filesystem>
#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::content {

/// What a variable font can be set to in one respect.
struct Axis {
    std::string tag;  ///< four letters: "wght", "wdth", "slnt"
    std::string name; ///< for people: "Weight"
    double least = 0, standard = 0, most = 0;

    friend bool operator==(const Axis&, const Axis&) = default;
};

struct AxisSetting {
    std::string tag;
    double value = 0;

    friend bool operator==(const AxisSetting&, const AxisSetting&) = default;
};

/// "wdth=85, slnt=-8" → settings. Errors: "font.axis".
[[nodiscard]] Result<std::vector<AxisSetting>> axis_settings(std::string_view list);
/// The same backwards.
[[nodiscard]] std::string text_of(std::span<const AxisSetting> settings);

/// One face of a family as fontconfig knows it.
struct FontFace {
    std::string family;
    std::string style; ///< "Bold", "Condensed Bold" …
    int weight = 400;  ///< OpenType weight class, 100…900
    int width = 100;   ///< fontconfig's width: 75 condensed, 100 normal, 125 expanded
    bool italic = false;
    std::filesystem::path file;
    int index = 0;                       ///< within a collection; the upper 16 bits name an instance of a variable font
    std::vector<AxisSetting> settings{}; ///< of a variable font: where it departs from the instance

    friend bool operator==(const FontFace&, const FontFace&) = default;
};

/// The scalable faces of this machine. Immutable and safe to share between threads; loaded faces are cached inside.
class FontLibrary {
public:
    /// Every face that fontconfig finds. Slow the first time on a machine (fontconfig's own cache): make one, share it.
    /// Errors: "font.none" when there is no usable face at all.
    [[nodiscard]] static Result<std::shared_ptr<const FontLibrary>> system();

    ~FontLibrary();
    /// Families in alphabetical order, each once.
    [[nodiscard]] const std::vector<std::string>& families() const;
    [[nodiscard]] std::vector<FontFace> faces(std::string_view family) const;
    /// What the family's variable fonts can be set to, each axis once, the weight first; empty where it has none.
    [[nodiscard]] std::vector<Axis> axes(std::string_view family) const;
    /// The upright face of `family` nearest to `weight`; a variable font meets a weight in between exactly. A "wght"
    /// among the settings overrides the weight. Errors: "font.not_found" with the nearest family name as hint,
    /// "font.axis" (the family has no such axis, or it does not reach so far).
    [[nodiscard]] Result<FontFace> find(std::string_view family, int weight,
                                        std::span<const AxisSetting> settings = {}) const;

    struct Impl;
    [[nodiscard]] const Impl& impl() const { return *impl_; }

private:
    explicit FontLibrary(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

/// The family used when a job names none: wide cover, heavy bold, in every Debian (package fonts-dejavu-core).
inline constexpr std::string_view default_family = "DejaVu Sans";

} // namespace touchmark::content
