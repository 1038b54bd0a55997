// SPDX-License-Identifier: MIT
#pragma once

// Which regions of a mark lie strictly inside a face, and what lies in whose holes.

#include "core/imprint/shell_edit.h"
#include "core/imprint/site.h"
#include "core/surface/segment_tree.h"

namespace touchmark::imprint {

struct RegionPolygons {
    geometry::Polygon outer;
    std::vector<geometry::Polygon> holes;
    Box2 box;
};
[[nodiscard]] std::vector<RegionPolygons> polygons_of(const geometry::Outline& outline);

/// A face in the mark's plane, rolled out or laid flat about the mark; there its seams are edges as well.
class HostArea {
public:
    /// Errors: "surface.degenerate".
    [[nodiscard]] static Result<HostArea> of(const TopoDS_Face& face, const Site& site);
    /// Of several on one plane, cylinder or cone as one; without what nesting_of() wants.
    [[nodiscard]] static Result<HostArea> of(std::span<const TopoDS_Face> faces, const Site& site);

    [[nodiscard]] bool covers(Vec2 at) const { return tree_.inside(at); }
    /// Inside with a little room to every edge, and no hole of the face in it.
    [[nodiscard]] bool holds(const RegionPolygons& region) const;
    /// For regions that it holds.
    [[nodiscard]] Nesting nesting_of(std::span<const RegionPolygons> regions) const;

private:
    struct Hole {
        TopoDS_Wire wire;
        std::vector<Vec2> at; ///< a point of it, on every turn
    };
    [[nodiscard]] static Result<std::vector<geometry::Polygon>> rolled_out(std::span<const TopoDS_Face> faces,
                                                                           const Site& site);
    [[nodiscard]] static Result<std::vector<geometry::Polygon>> outlined(std::span<const TopoDS_Face> faces,
                                                                         const Site& site);
    [[nodiscard]] static Result<std::vector<geometry::Polygon>> laid_flat(const TopoDS_Face& face, const Site& site);
    HostArea(std::vector<geometry::Polygon> polygons, std::vector<Hole> wires, double clearance);
    [[nodiscard]] bool touches(const geometry::Polygon& polygon) const;

    std::vector<geometry::Polygon> polygons_;
    surface::SegmentTree tree_;
    std::vector<Hole> wires_;
    double clearance_;
};

} // namespace touchmark::imprint
