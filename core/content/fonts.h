// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/result.h"

#include <filesystem>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace touchmark::content {

/// One face of a family as fontconfig knows it.
struct FontFace {
    std::string family;
    std::string style; ///< "Bold", "Condensed Bold" …
    int weight = 400;  ///< OpenType weight class, 100…900
    int width = 100;   ///< fontconfig's width: 75 condensed, 100 normal, 125 expanded
    bool italic = false;
    std::filesystem::path file;
    int index = 0; ///< within a collection; the upper 16 bits name an instance of a variable font

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
    /// The upright face of `family` nearest to `weight`. Errors: "font.not_found" with the nearest family name as hint.
    [[nodiscard]] Result<FontFace> find(std::string_view family, int weight) const;

    struct Impl;
    [[nodiscard]] const Impl& impl() const { return *impl_; }

private:
    explicit FontLibrary(std::unique_ptr<Impl> impl);
    std::unique_ptr<Impl> impl_;
};

/// The family used when a job names none: wide cover, heavy bold, in every Debian (package fonts-dejavu-core).
inline constexpr std::string_view default_family = "DejaVu Sans";

} // namespace touchmark::content
