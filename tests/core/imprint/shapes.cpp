// SPDX-License-Identifier: MIT
#include "tests/core/imprint/shapes.h"

#include "tests/support/open_parts.h"
#include "tests/support/reader.h"

#include <BRepBuilderAPI_MakeEdge.hxx>
#include <BRepBuilderAPI_MakeFace.hxx>
#include <BRepBuilderAPI_MakeWire.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRepFilletAPI_MakeFillet.hxx>
#include <BRepGProp.hxx>
#include <BRepGProp_Domain.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepGProp_Vinert.hxx>
#include <BRepPrimAPI_MakeBox.hxx>
#include <BRepPrimAPI_MakePrism.hxx>
#include <BRepTools.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <Geom_BezierCurve.hxx>
#include <TColgp_Array1OfPnt.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Compound.hxx>
#include <gp_Pln.hxx>

#include <cmath>
#include <map>
#include <stdexcept>

namespace touchmark::test {

using geometry::Contour;
using geometry::Outline;
using geometry::Region;
using geometry::Segment;

Contour rectangle(Vec2 low, Vec2 high) {
    const std::array corners{low, Vec2{high.x, low.y}, high, Vec2{low.x, high.y}};
    return geometry::contour_of(corners);
}

Contour circle(Vec2 c, double r) {
    const double k = 0.5522847498 * r;
    return {{Segment::cubic({c.x + r, c.y}, {c.x + r, c.y + k}, {c.x + k, c.y + r}, {c.x, c.y + r}),
             Segment::cubic({c.x, c.y + r}, {c.x - k, c.y + r}, {c.x - r, c.y + k}, {c.x - r, c.y}),
             Segment::cubic({c.x - r, c.y}, {c.x - r, c.y - k}, {c.x - k, c.y - r}, {c.x, c.y - r}),
             Segment::cubic({c.x, c.y - r}, {c.x + k, c.y - r}, {c.x + r, c.y - k}, {c.x + r, c.y})}};
}

Region ring(Vec2 centre, double outer, double inner) {
    return {circle(centre, outer), {geometry::reversed(circle(centre, inner))}};
}

Outline letter(int which) {
    const auto hole = [](Vec2 low, Vec2 high) { return geometry::reversed(rectangle(low, high)); };
    switch (which % 6) {
    case 0:
        return {{{rectangle({0.3, 0}, {0.5, 1}), {}}}};
    case 1:
        return {{ring({0.5, 0.5}, 0.48, 0.3)}};
    case 2:
        return {{{rectangle({0.1, 0}, {0.7, 1}), {hole({0.3, 0.15}, {0.55, 0.4}), hole({0.3, 0.6}, {0.55, 0.85})}}}};
    case 3: {
        const geometry::Polygon outer{{0, 0}, {0.25, 0}, {0.5, 0.6}, {0.75, 0}, {1, 0}, {0.62, 1}, {0.38, 1}};
        const geometry::Polygon counter{{0.45, 0.75}, {0.55, 0.75}, {0.5, 0.85}};
        return {{{geometry::contour_of(outer), {geometry::reversed(geometry::contour_of(counter))}}}};
    }
    case 4: {
        Contour s{{Segment::quadratic({0.1, 0.1}, {0.9, -0.1}, {0.8, 0.5}),
                   Segment::quadratic({0.8, 0.5}, {0.2, 0.7}, {0.8, 0.9}),
                   Segment::quadratic({0.8, 0.9}, {0.0, 1.05}, {0.1, 0.6}), Segment::line({0.1, 0.6}, {0.55, 0.35}),
                   Segment::quadratic({0.55, 0.35}, {0.4, 0.2}, {0.1, 0.1})}};
        return {{{s, {}}}};
    }
    default:
        return {{ring({0.5, 0.5}, 0.49, 0.36), ring({0.5, 0.5}, 0.26, 0.15), {circle({0.5, 0.5}, 0.08), {}}}};
    }
}

Outline lettering(int count, double width, double height) {
    const int columns = std::max(1, static_cast<int>(std::ceil(std::sqrt(count * width / height))));
    const int rows = (count + columns - 1) / columns;
    const double cell = std::min(width / columns, height / rows), size = cell * 0.8;
    Outline out;
    for (int i = 0; i < count; ++i) {
        const Vec2 at{(i % columns - columns / 2.0) * cell + 0.1 * cell,
                      (i / columns - rows / 2.0) * cell + 0.1 * cell};
        const Outline placed =
            geometry::transformed(letter(i), geometry::Affine::translation(at) * geometry::Affine::scale(size));
        out.regions.insert(out.regions.end(), placed.regions.begin(), placed.regions.end());
    }
    return out;
}

geometry::Outline without_counters(const geometry::Outline& outline) {
    geometry::Outline out;
    for (const geometry::Region& region : outline.regions) {
        const Vec2 start = region.outer.segments[0].points[0];
        const bool nested = std::ranges::any_of(outline.regions, [&](const geometry::Region& other) {
            return &other != &region && geometry::winding(geometry::flattened(other.outer, 1e-3), start) != 0;
        });
        if (!nested) out.regions.push_back({region.outer, {}});
    }
    return out;
}

Outline moved(const Outline& outline, Vec2 by, double turn_degrees) {
    return geometry::transformed(outline, surface::placement(by, Degrees(turn_degrees)));
}

double gauss_area(const Outline& outline) {
    // Abramowitz and Stegun, table 25.4, n = 4.
    constexpr std::array at{-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526};
    constexpr std::array weight{0.3478548451374538, 0.6521451548625461, 0.6521451548625461, 0.3478548451374538};
    double area = 0;
    const auto add = [&](const Contour& contour) {
        for (const Segment& segment : contour.segments)
            for (std::size_t i = 0; i < 4; ++i) {
                const double t = (at[i] + 1) / 2;
                const Vec2 p = geometry::point_at(segment, t), d = geometry::derivative_at(segment, t);
                area += weight[i] / 4 * (p.x * d.y - p.y * d.x);
            }
    };
    for (const Region& region : outline.regions) {
        add(region.outer);
        for (const Contour& hole : region.holes)
            add(hole);
    }
    return area;
}

part::PartPtr part_of(const TopoDS_Shape& shape) {
    part::Model model;
    model.name = "test";
    model.products.push_back({"test", shape, {}, {}, {}});
    model.roots.push_back({0, {}, "test", {}});
    auto part = part::make_part(std::move(model), {}, Progress());
    if (!part) throw std::runtime_error(part.error().message);
    return *part;
}

part::PartPtr open_any(std::string_view name) {
    const std::filesystem::path file = open_part(name);
    if (file.extension() != ".brep") return read_part(file);
    TopoDS_Shape shape;
    BRep_Builder builder;
    if (!BRepTools::Read(shape, file.c_str(), builder)) throw std::runtime_error("cannot read " + file.string());
    return part_of(shape);
}

TopoDS_Shape rounded_box(double x, double y, double z, double radius) {
    const TopoDS_Shape box = BRepPrimAPI_MakeBox(gp_Pnt(-x / 2, -y / 2, 0), x, y, z).Shape();
    BRepFilletAPI_MakeFillet fillet(box);
    for (TopExp_Explorer edge(box, TopAbs_EDGE); edge.More(); edge.Next())
        fillet.Add(radius, TopoDS::Edge(edge.Current()));
    return TopExp_Explorer(fillet.Shape(), TopAbs_SOLID).Current();
}

TopoDS_Shape extruded(const Region& region, double low, double height) {
    const auto wire = [&](const Contour& contour) {
        BRepBuilderAPI_MakeWire made;
        for (const Segment& segment : contour.segments) {
            TColgp_Array1OfPnt poles(1, segment.degree + 1);
            for (int k = 0; k <= segment.degree; ++k) {
                const Vec2 p = segment.points[static_cast<std::size_t>(k)];
                poles(k + 1) = gp_Pnt(p.x, p.y, low);
            }
            made.Add(segment.degree == 1 ? BRepBuilderAPI_MakeEdge(poles(1), poles(2)).Edge()
                                         : BRepBuilderAPI_MakeEdge(new Geom_BezierCurve(poles)).Edge());
        }
        return made.Wire();
    };
    BRepBuilderAPI_MakeFace face(gp_Pln(gp_Pnt(0, 0, low), gp::DZ()), wire(region.outer), Standard_True);
    for (const Contour& hole : region.holes)
        face.Add(wire(hole));
    return BRepPrimAPI_MakePrism(face.Face(), gp_Vec(0, 0, height)).Shape();
}

int farthest_flat_face(const part::Part& part, Vec3 along) {
    int best = -1;
    double far = -1e300;
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, along) > 0.9 && dot(face.centroid, along) > far) {
            far = dot(face.centroid, along);
            best = face.index;
        }
    return best;
}

namespace {

struct Counts {
    int solids = 0, shells = 0;
};

Counts counts(const TopoDS_Shape& shape) {
    Counts out;
    for (TopExp_Explorer i(shape, TopAbs_SOLID); i.More(); i.Next())
        ++out.solids;
    for (TopExp_Explorer i(shape, TopAbs_SHELL); i.More(); i.Next())
        ++out.shells;
    return out;
}

int edges_not_used_once_each_way(const TopoDS_Shape& shape) {
    TopTools_IndexedMapOfShape edges;
    std::map<int, std::pair<int, int>> uses;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        for (TopExp_Explorer edge(face.Current(), TopAbs_EDGE); edge.More(); edge.Next()) {
            if (BRep_Tool::Degenerated(TopoDS::Edge(edge.Current()))) continue;
            auto& use = uses[edges.Add(edge.Current())];
            (edge.Current().Orientation() == TopAbs_FORWARD ? use.first : use.second)++;
        }
    int odd = 0;
    for (const auto& [index, use] : uses)
        odd += use != std::pair(1, 1);
    return odd;
}

TopoDS_Shape others(const TopoDS_Shape& shape, const TopTools_IndexedMapOfShape& but) {
    BRep_Builder builder;
    TopoDS_Compound faces;
    builder.MakeCompound(faces);
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        if (!but.Contains(face.Current())) builder.Add(faces, face.Current());
    return faces;
}

double volume_of_others(const TopoDS_Shape& shape, const TopTools_IndexedMapOfShape& but, const gp_Pnt& about) {
    double sum = 0;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next()) {
        if (but.Contains(face.Current())) continue;
        BRepGProp_Face integrand(TopoDS::Face(face.Current()));
        BRepGProp_Domain domain(TopoDS::Face(face.Current()));
        sum += BRepGProp_Vinert(integrand, domain, about, 1e-8).Mass();
    }
    return sum;
}

/// See Difference::unsure.
double unsure_volume(const TopoDS_Shape& shape, const TopTools_IndexedMapOfShape& but, const gp_Pnt& about) {
    constexpr double exact = 1e-5; // mm
    TopTools_IndexedMapOfShape edges;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        if (!but.Contains(face.Current())) TopExp::MapShapes(face.Current(), TopAbs_EDGE, edges);
    double sum = 0;
    for (int i = 1; i <= edges.Extent(); ++i) {
        const TopoDS_Edge& edge = TopoDS::Edge(edges(i));
        const double tolerance = BRep_Tool::Tolerance(edge);
        if (tolerance <= exact || BRep_Tool::Degenerated(edge)) continue;
        GProp_GProps line;
        BRepGProp::LinearProperties(edge, line);
        sum += tolerance * line.Mass() * line.CentreOfMass().Distance(about) / 3;
    }
    return sum;
}

} // namespace

Difference difference(const part::Part& before, const part::Part& after, int body) {
    const TopoDS_Shape &old = part::occurrence(before, body).shape, &now = part::occurrence(after, body).shape;
    TopTools_IndexedMapOfShape old_faces, new_faces;
    TopExp::MapShapes(old, TopAbs_FACE, old_faces);
    TopExp::MapShapes(now, TopAbs_FACE, new_faces);
    gp_Pnt about;
    for (int i = 1; i <= old_faces.Extent(); ++i)
        if (!new_faces.Contains(old_faces(i)))
            about = BRep_Tool::Pnt(TopoDS::Vertex(TopExp_Explorer(old_faces(i), TopAbs_VERTEX).Current()));
    Difference out;
    out.volume = volume_of_others(now, old_faces, about) - volume_of_others(old, new_faces, about);
    out.unsure = unsure_volume(old, new_faces, about);
    // Of a large solid only what changed: the rest are the very same faces.
    const bool large = old_faces.Extent() > 40;
    out.valid = BRepCheck_Analyzer(large ? others(now, old_faces) : now).IsValid() ||
                !BRepCheck_Analyzer(large ? others(old, new_faces) : old).IsValid();
    out.closed = edges_not_used_once_each_way(now) <= edges_not_used_once_each_way(old);
    const Counts was = counts(old), is = counts(now);
    out.more_shells = is.shells - was.shells;
    out.more_solids = is.solids - was.solids;
    out.same_counts = out.more_shells == 0 && out.more_solids == 0;
    return out;
}

} // namespace touchmark::test
