// SPDX-License-Identifier: MIT
#pragma once

#include "core/print/simulate.h"

#include <span>
#include <vector>

namespace touchmark::print {

/// A hidden mark held against a light and looked at squarely.
struct LightThrough {
    /// Material along the line of sight without the mark's voids, mm; on a grid of its own in the printed one's frame.
    Field thickness;
    /// Share of the light that comes through, on the printed grid; blurred by what the skin scatters.
    Field glow;
    double thinnest_mm = 0, thickest_mm = 0; ///< of `thickness` under the mark
    std::vector<double> contrast;            ///< of each piece, see michelson()
    bool measured = false;                   ///< by a wedge; otherwise by one figure of the profile

    [[nodiscard]] double least_contrast() const; ///< 1 without pieces
    /// Share of the light that comes through where least does.
    [[nodiscard]] double dimmest(const process::Printing& figures) const;
};

/// Decadic logarithm of the share of light that comes through a thickness (mm): between the steps of the shop's wedge
/// straight lines in log T, beyond its ends the nearest line goes on; without a wedge the law of Lambert and Beer with
/// the profile's one figure. No universal figure exists: multiple scattering makes it depend on thickness (Applied
/// Optics 60, 6573, 2021).
[[nodiscard]] double log_transmission(const process::Printing& figures, double thickness_mm);
[[nodiscard]] double transmission(const process::Printing& figures, double thickness_mm);

/// (bright − dark) / (bright + dark): A. A. Michelson, "Studies in Optics", 1927.
[[nodiscard]] double michelson(double bright, double dark);

/// `thickness`: see LightThrough; `cover_mm`: of the skin over the voids; `pieces`: boxes in the mark's mm. A piece's
/// contrast is that of the mean over its strokes to the mean over what lies between and about them in its box.
[[nodiscard]] LightThrough light_through(const Printed& printed, Field thickness, double cover_mm,
                                         const process::Printing& figures, std::span<const Box2> pieces);

} // namespace touchmark::print
