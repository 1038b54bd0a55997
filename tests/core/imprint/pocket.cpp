// SPDX-License-Identifier: MIT
#include "tests/core/imprint/pocket.h"

#include "core/geometry/contour.h"
#include "core/part/shape.h"

#include <BRepGProp_Domain.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepGProp_Vinert.hxx>
#include <BRepTools_WireExplorer.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <cmath>
#include <vector>

namespace touchmark::test {
namespace {

/// A wire of the mark's edges on a face of the part, seen from inside the mark.
struct Rim {
    TopoDS_Face face; ///< as the part has it
    TopoDS_Wire wire; ///< on the face turned forward
    geometry::Polygon points;
};

Rim rim_of(const TopoDS_Face& of, const TopoDS_Wire& wire) {
    const TopoDS_Face face = TopoDS::Face(of.Oriented(TopAbs_FORWARD));
    Rim rim{of, TopoDS::Wire(wire.Reversed()), {}};
    for (BRepTools_WireExplorer item(rim.wire, face); item.More(); item.Next()) {
        double first, last;
        const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(item.Current(), face, first, last);
        constexpr int parts = 4;
        for (int i = 0; i < parts; ++i) {
            const double s = static_cast<double>(i) / parts;
            const bool back = item.Current().Orientation() == TopAbs_REVERSED;
            const gp_Pnt2d p = curve->Value(back ? last + (first - last) * s : first + (last - first) * s);
            rim.points.push_back({p.X(), p.Y()});
        }
    }
    return rim;
}

double volume_under(const TopoDS_Shape& face, const gp_Pnt& about) {
    constexpr double good = 1e-8;
    BRepGProp_Face integrand(TopoDS::Face(face));
    BRepGProp_Domain domain(TopoDS::Face(face));
    return BRepGProp_Vinert(integrand, domain, about, good).Mass();
}

bool is_mark(const part::Face& face, std::string_view name) {
    return name.empty() ? !face.mark.empty() : face.name == name;
}

} // namespace

double pocket_volume(const part::Part& marked, int body, std::string_view name) {
    TopTools_IndexedMapOfShape of_mark;
    std::vector<TopoDS_Face> walls, rest;
    for (const part::Face& face : marked.faces()) {
        if (face.body != body) continue;
        const TopoDS_Face& shape = part::face_shape(marked, face.index);
        (is_mark(face, name) ? walls : rest).push_back(shape);
        if (is_mark(face, name)) TopExp::MapShapes(shape, TopAbs_EDGE, of_mark);
    }
    std::vector<Rim> outer, holes;
    for (const TopoDS_Face& face : rest)
        for (TopoDS_Iterator wire(face.Oriented(TopAbs_FORWARD)); wire.More(); wire.Next()) {
            TopExp_Explorer edge(wire.Value(), TopAbs_EDGE);
            if (!edge.More() || !of_mark.Contains(edge.Current())) continue;
            Rim rim = rim_of(face, TopoDS::Wire(wire.Value()));
            (geometry::area(rim.points) > 0 ? outer : holes).push_back(std::move(rim));
        }
    const gp_Pnt about = BRep_Tool::Pnt(TopoDS::Vertex(TopExp_Explorer(walls.at(0), TopAbs_VERTEX).Current()));
    const BRep_Builder builder;
    std::vector<TopoDS_Face> lids;
    for (const Rim& rim : outer) {
        TopoDS_Face& lid = lids.emplace_back();
        TopLoc_Location location;
        const Handle(Geom_Surface) surface = BRep_Tool::Surface(rim.face, location);
        builder.MakeFace(lid, surface, location, 1e-6);
        builder.Add(lid, rim.wire);
    }
    for (const Rim& hole : holes) {
        std::size_t around = outer.size();
        for (std::size_t i = 0; i < outer.size(); ++i)
            if (geometry::winding(outer[i].points, hole.points[0]) != 0 &&
                (around == outer.size() || geometry::area(outer[i].points) < geometry::area(outer[around].points)))
                around = i;
        builder.Add(lids.at(around), hole.wire);
    }
    double volume = 0;
    for (const TopoDS_Face& wall : walls)
        volume += volume_under(wall, about);
    for (std::size_t i = 0; i < lids.size(); ++i)
        volume -= volume_under(lids[i].Oriented(outer[i].face.Orientation()), about);
    return volume;
}

double volume_over_mark(const part::Part& marked, int body, Vec3 about, std::string_view name) {
    const gp_Trsf placed = part::occurrence(marked, body).location.Transformation();
    const gp_Pnt near = gp_Pnt(about.x, about.y, about.z).Transformed(placed.Inverted());
    double volume = 0;
    for (const part::Face& face : marked.faces())
        if (face.body == body && is_mark(face, name))
            volume += volume_under(part::face_shape(marked, face.index), near);
    return volume;
}

} // namespace touchmark::test
