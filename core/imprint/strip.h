// SPDX-License-Identifier: MIT
#pragma once

// The walls around one contour, each between a rim on the host face and a foot on the floor.

#include <BRep_Builder.hxx>
#include <TopoDS_Edge.hxx>
#include <TopoDS_Face.hxx>
#include <TopoDS_Vertex.hxx>
#include <TopoDS_Wire.hxx>

#include <vector>

namespace touchmark::imprint {

/// The edges around one wall: rim and foot run with the contour, `upright` leads from rim to foot at the start.
struct Strip {
    TopoDS_Vertex rim_start, foot_start;
    TopoDS_Edge rim, foot, upright;
};

/// `stand(strip, i)` makes the upright at the start of segment i, `span(i, strip, next)` its rim, foot and face, still
/// without wire. The wires run as the contour does.
template <class Stand, class Span>
void build_walls_around(std::size_t count, Stand&& stand, Span&& span, TopoDS_Wire& rim, TopoDS_Wire& foot,
                        std::vector<TopoDS_Face>& walls) {
    const BRep_Builder builder;
    std::vector<Strip> strips(count);
    for (std::size_t i = 0; i < count; ++i)
        stand(strips[i], i);
    builder.MakeWire(rim);
    builder.MakeWire(foot);
    std::vector<TopoDS_Face> fresh(count);
    for (std::size_t i = 0; i < count; ++i) {
        fresh[i] = span(i, strips[i], strips[(i + 1) % count]);
        builder.Add(rim, strips[i].rim);
        builder.Add(foot, strips[i].foot);
    }
    for (std::size_t i = 0; i < count; ++i) {
        TopoDS_Wire wire;
        builder.MakeWire(wire);
        builder.Add(wire, strips[i].rim);
        builder.Add(wire, strips[(i + 1) % count].upright);
        builder.Add(wire, strips[i].foot.Reversed());
        builder.Add(wire, strips[i].upright.Reversed());
        wire.Closed(Standard_True);
        builder.Add(fresh[i], wire);
        walls.push_back(fresh[i]);
    }
    rim.Closed(Standard_True);
    foot.Closed(Standard_True);
}

} // namespace touchmark::imprint
