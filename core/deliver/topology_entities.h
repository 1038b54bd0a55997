// SPDX-License-Identifier: MIT
#pragma once

#include "core/deliver/unmarked.h"

#include <TopoDS_Edge.hxx>
#include <TopoDS_Wire.hxx>

#include <map>
#include <unordered_set>

namespace touchmark::deliver {

/// Writes new faces, sharing with the unmarked part's text every loop, edge, vertex, curve and surface that the shapes
/// share. Loops run around the material side by ISO 10303-42: the face on their left, seen from outside.
class TopologyEntities : private SurfaceWriter {
public:
    TopologyEntities(const Unmarked& unmarked, Entities& out) : unmarked_(unmarked), out_(out) {}

    /// What follows `ADVANCED_FACE(` and the name: bounds, surface and sense. `old_bounds`: those of the face it takes
    /// the place of, used again where they are as before.
    [[nodiscard]] std::string face(const TopoDS_Face& face, const std::vector<int>& old_bounds);
    /// Why not everything could be written; empty when it could.
    [[nodiscard]] const std::string& refused() const { return refused_; }
    /// Instances of the unmarked text that what was written refers to.
    [[nodiscard]] const std::unordered_set<int>& reused() const { return reused_; }

private:
    int reuse(int id);
    int refuse(std::string why);
    int vertex(const TopoDS_Shape& vertex);
    int edge(const TopoDS_Edge& edge);
    int loop(const TopoDS_Wire& wire, const TopoDS_Face& face);
    int placed(const PlacedCurve& curve);
    int with_parameters(const TopoDS_Edge& edge, const Geom_Curve& along, int curve);
    SurfaceEntity placed(const PlacedSurface& surface);
    int curve(const Handle(Geom_Curve) & basis) override { return placed(PlacedCurve{basis, {}}); }
    SurfaceEntity surface(const Handle(Geom_Surface) & basis) override { return placed(PlacedSurface{basis, {}}); }

    const Unmarked& unmarked_;
    Entities& out_;
    TopTools_DataMapOfShapeInteger shapes_;
    PlacedMap<PlacedCurve, int> curves_;
    PlacedMap<PlacedSurface, SurfaceEntity> surfaces_;
    std::unordered_set<int> reused_;
    std::string refused_;
};

} // namespace touchmark::deliver
