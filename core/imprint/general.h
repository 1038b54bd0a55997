// SPDX-License-Identifier: MIT
#pragma once

// The general boolean, for regions that cross or touch an edge of the face.

#include "core/imprint/check.h"
#include "core/imprint/site.h"

#include <BRepTools_History.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS_Solid.hxx>

namespace touchmark::imprint {

/// What the boolean does: a prism a region between two heights over the face, cut out or fused.
struct Prisms {
    double bottom = 0, top = 0;
    bool cut = true;
    int more_shells = 0; ///< what is to come of it: hollows made, or opened (negative)
};
/// With the overshoot past the face that keeps lids away.
[[nodiscard]] Prisms prisms_of(const Footprint& mark, const Site& site);

struct Boolean {
    TopoDS_Shape solid;
    std::vector<TopoDS_Shape> removed; ///< solids: what was cut out
    std::vector<TopoDS_Face> made;     ///< of the mark
    double volume_change = 0;          ///< held against what tool and solid have in common
    Handle(BRepTools_History) history;
};

/// A closed body of one region between two heights over the site's face. Errors: "imprint.failed", where the face has
/// no parallel surface.
[[nodiscard]] Result<TopoDS_Solid> prism_of(const Site& site, const geometry::Region& region, double bottom,
                                            double top);

/// What a face of the old solid has become, as it lies in the new one.
class PieceFinder {
public:
    explicit PieceFinder(const TopoDS_Shape& result, const Handle(BRepTools_History) & history);
    [[nodiscard]] std::vector<TopoDS_Face> of(const TopoDS_Shape& face) const;

private:
    TopTools_IndexedMapOfShape present_;
    Handle(BRepTools_History) history_;
};

/// Cuts (or fuses) a prism a region. Every result is checked (see compare()); one that fails is tried again: with a
/// tolerance of 1e-5 mm, with the outline moved by 2e-4 mm, and all that again one region at a time. The tools reach
/// `overshoot` beyond the face's plane: flush ones leave lids. Errors: "imprint.failed", "cancelled".
[[nodiscard]] Result<Boolean> apply_general(const TopoDS_Shape& solid, const Site& site,
                                            std::span<const geometry::Region> regions, const Prisms& prisms,
                                            const Progress& progress);

/// How far a prism reaches over the plane (engrave) or under it (raise), mm.
inline constexpr double overshoot = 0.1;

} // namespace touchmark::imprint
