// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/progress.h"
#include "core/print/light_through.h"

#include <memory>
#include <span>
#include <string_view>

namespace touchmark::print {

/// How a printed mark is lit when it is looked at.
enum class Lighting {
    diffuse,    ///< from the whole sky over the face: what lies deep gets less of it
    low_ring,   ///< from all sides, low: edges are bright, floors in shadow
    from_left,  ///< from one side, low
    from_above, ///< the mark's own above
    from_right,
    from_below,
    two_colours, ///< of an inlay: the bodies differ in colour
    through,     ///< a hidden mark against a light behind the part
};
[[nodiscard]] std::string_view title_of(Lighting lighting); ///< "an even light", "a low light from the left" …
/// Those a mark of this mode is read by; the even ones first.
[[nodiscard]] std::span<const Lighting> lightings(Mode mode);
/// Whether a reader's own lamp or an ordinary room gives it; the others want the part turned.
[[nodiscard]] bool is_even(Lighting lighting);

/// Brightness, 1 = the face itself where nothing is printed (of `through`: the mark's brightest spot). Row 0 at the
/// top, the mark's x to the right.
struct Brightness {
    int width = 0, height = 0;
    std::vector<float> values;

    [[nodiscard]] float at(int x, int y) const {
        return values[static_cast<std::size_t>(y) * static_cast<std::size_t>(width) + static_cast<std::size_t>(x)];
    }
};

/// A part of a printed mark as it looks: a matt surface of one colour that reflects alike to all sides (Lambert), with
/// the shadows that its walls cast; light between the walls is not followed.
class Appearance {
public:
    /// `light`: of a hidden mark, else null. `box`: in mark mm. REQUIRES: both outlive it.
    Appearance(const Printed& printed, const LightThrough* light, const Box2& box, double pixels_a_mm);
    ~Appearance();
    /// Several lights cost little more than one. Errors: "cancelled".
    [[nodiscard]] Result<Brightness> in(Lighting lighting, const Progress& progress);

private:
    struct Impl;
    std::unique_ptr<Impl> impl_;
};

/// In one light.
[[nodiscard]] Result<Brightness> appearance(const Printed& printed, const LightThrough* light, Lighting lighting,
                                            const Box2& box, double pixels_a_mm, const Progress& progress);

} // namespace touchmark::print
