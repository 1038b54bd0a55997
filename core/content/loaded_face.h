// SPDX-License-Identifier: MIT
#pragma once

// FreeType's and HarfBuzz's side of a face; for core/content only.

#include "core/content/fonts.h"
#include "core/geometry/outline.h"

#include <hb.h>

#include <memory>
#include <mutex>
#include <optional>
#include <unordered_map>

struct FT_FaceRec_;
struct FT_LibraryRec_;

namespace touchmark::content {

/// One face read from its file. Safe to use from several threads: shaping needs no lock, a glyph's outline is made once
/// under one.
class LoadedFace {
public:
    /// Errors: "font.not_readable".
    [[nodiscard]] static Result<std::shared_ptr<const LoadedFace>> load(const FontFace& face);
    /// What the file can be set to; empty for a fixed one and for what cannot be read. Axes that its makers hide from
    /// people are left out.
    [[nodiscard]] static std::vector<Axis> axes(const FontFace& face);
    ~LoadedFace();
    LoadedFace(const LoadedFace&) = delete;
    LoadedFace& operator=(const LoadedFace&) = delete;

    /// In font units, y up.
    [[nodiscard]] hb_font_t* shaping_font() const { return font_; }
    /// Font units from the baseline to the top of a flat capital.
    [[nodiscard]] double cap_height() const { return cap_height_; }
    [[nodiscard]] bool has(char32_t code_point) const { return nominal(code_point).has_value(); }
    /// The glyph of a character that stands alone; nullopt where the face has none.
    [[nodiscard]] std::optional<std::uint32_t> nominal(char32_t code_point) const;

    /// A glyph normalised once, at a cap height of `reference_cap_height` mm, its origin at (0, 0).
    static constexpr double reference_cap_height = 10;
    [[nodiscard]] Result<std::shared_ptr<const geometry::Outline>> glyph(std::uint32_t index) const;

private:
    LoadedFace() = default;
    [[nodiscard]] bool open(const FontFace& face);
    [[nodiscard]] bool set_axes(const FontFace& face);
    [[nodiscard]] bool load(std::uint32_t glyph) const;
    [[nodiscard]] double measured_cap_height() const;
    [[nodiscard]] std::vector<geometry::Contour> contours(std::uint32_t index, double scale) const;

    FT_LibraryRec_* library_ = nullptr;
    FT_FaceRec_* face_ = nullptr;
    hb_font_t* font_ = nullptr;
    double cap_height_ = 0;
    bool variable_ = false;
    mutable std::mutex mutex_; ///< guards face_ and glyphs_
    mutable std::unordered_map<std::uint32_t, std::shared_ptr<const geometry::Outline>> glyphs_;
};

/// The library's own cache of loaded faces. Errors: "font.not_readable".
[[nodiscard]] Result<std::shared_ptr<const LoadedFace>> loaded(const FontLibrary& fonts, const FontFace& face);

} // namespace touchmark::content
