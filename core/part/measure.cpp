// SPDX-License-Identifier: MIT
#include "core/part/face_integral.h"
#include "core/part/part_data.h"
#include "core/part/recognise.h"
#include "core/part/simple_face.h"
#include "core/part/vectors.h"

#include <BRepAdaptor_Surface.hxx>
#include <BRepBndLib.hxx>
#include <BRepCheck_Analyzer.hxx>
#include <BRep_Tool.hxx>
#include <Bnd_Box.hxx>
#include <OSD_Parallel.hxx>
#include <Standard_Failure.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <gp_Cone.hxx>
#include <gp_Cylinder.hxx>
#include <gp_Pln.hxx>
#include <gp_Sphere.hxx>
#include <gp_Torus.hxx>

#include <cmath>

namespace touchmark::part {
namespace {

FaceKind kind_of(GeomAbs_SurfaceType type) {
    switch (type) {
    case GeomAbs_Plane:
        return FaceKind::plane;
    case GeomAbs_Cylinder:
        return FaceKind::cylinder;
    case GeomAbs_Cone:
        return FaceKind::cone;
    case GeomAbs_Sphere:
        return FaceKind::sphere;
    case GeomAbs_Torus:
        return FaceKind::torus;
    default:
        return FaceKind::freeform;
    }
}

void describe_freeform(const BRepAdaptor_Surface& surface, double side, FaceMeasure& measure) {
    const double u = (surface.FirstUParameter() + surface.LastUParameter()) / 2;
    const double v = (surface.FirstVParameter() + surface.LastVParameter()) / 2;
    gp_Pnt point;
    gp_Vec du, dv;
    surface.D1(u, v, point, du, dv);
    const gp_Vec normal = du.Crossed(dv);
    measure.frame.origin = vec(point);
    if (normal.Magnitude() > 1e-12 * (du.Magnitude() * dv.Magnitude() + 1e-300) && normal.Magnitude() > 0)
        measure.frame = frame_from(vec(point), vec(normal) * side, vec(du));
}

void describe_surface(const TopoDS_Face& face, FaceMeasure& measure) {
    BRepAdaptor_Surface surface(face, Standard_False);
    const double side = face.Orientation() == TopAbs_REVERSED ? -1 : 1;
    measure.kind = kind_of(surface.GetType());
    switch (measure.kind) {
    case FaceKind::plane: {
        const gp_Ax3 axes = surface.Plane().Position();
        const gp_Vec normal = gp_Vec(axes.XDirection()).Crossed(gp_Vec(axes.YDirection())) * side;
        measure.frame = frame_from(measure.centroid, vec(normal), vec(axes.XDirection()));
        break;
    }
    case FaceKind::cylinder:
        measure.frame = frame_of(surface.Cylinder().Position());
        measure.radius = surface.Cylinder().Radius();
        break;
    case FaceKind::cone:
        measure.frame = frame_of(surface.Cone().Position());
        measure.radius = surface.Cone().RefRadius();
        break;
    case FaceKind::sphere:
        measure.frame = frame_of(surface.Sphere().Position());
        measure.radius = surface.Sphere().Radius();
        break;
    case FaceKind::torus:
        measure.frame = frame_of(surface.Torus().Position());
        measure.radius = surface.Torus().MajorRadius();
        break;
    case FaceKind::freeform:
        if (const auto plane = recognised_plane(face)) {
            measure.kind = FaceKind::plane;
            measure.frame =
                frame_from(measure.centroid, vec(plane->Axis().Direction()) * side, vec(plane->XAxis().Direction()));
        } else if (const auto round = recognised_round(face)) {
            measure.kind = round->semi_angle == 0 ? FaceKind::cylinder : FaceKind::cone;
            measure.frame = frame_of(round->axes);
            measure.radius = round->radius;
        } else {
            surface.Initialize(face);
            describe_freeform(surface, side, measure);
        }
        break;
    }
}

/// Made of straight lines that run from edge to edge, so that the edges' box is the face's.
bool is_ruled(const BRepAdaptor_Surface& surface) {
    switch (surface.GetType()) {
    case GeomAbs_SurfaceOfExtrusion:
        return true;
    case GeomAbs_BSplineSurface:
        return (surface.UDegree() == 1 && surface.NbUPoles() == 2) ||
               (surface.VDegree() == 1 && surface.NbVPoles() == 2);
    default:
        return false;
    }
}

Box3 box_of(const TopoDS_Face& face) {
    Bnd_Box box;
    if (is_ruled(BRepAdaptor_Surface(face, Standard_False)))
        for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next())
            BRepBndLib::Add(edge.Current(), box, Standard_False);
    else
        BRepBndLib::Add(face, box, Standard_False);
    Box3 out;
    if (box.IsVoid()) return out;
    box.SetGap(0);
    out.add(vec(box.CornerMin()));
    out.add(vec(box.CornerMax()));
    return out;
}

/// Work on the items of all bodies, on all processors, until cancelled.
struct Item {
    const ProductBody* body;
    BodyMeasure* measure;
    std::size_t face;
    Vec3 about;
};

void work_on(const Item& item) {
    try {
        item.measure->faces[item.face] = measure_face(item.body->faces[item.face], item.about);
    } catch (const Standard_Failure&) { // stays without size
    }
}

/// The volume integral is taken about a point near the body, or a body far from the origin drowns in rounding. A vertex
/// of each face tells where that is; the boxes of the faces would take as long as all else.
Vec3 reference_point(const ProductBody& body) {
    Box3 box;
    for (const TopoDS_Face& face : body.faces)
        if (const TopExp_Explorer vertex(face, TopAbs_VERTEX); vertex.More())
            box.add(vec(BRep_Tool::Pnt(TopoDS::Vertex(vertex.Current()))));
    return box.empty() ? Vec3() : box.centre();
}

} // namespace

FaceMeasure measure_face(const TopoDS_Face& face, const Vec3& about) {
    if (const auto simple = measure_simply(face, about)) return *simple;
    return measure_generally(face, about);
}

FaceMeasure measure_generally(const TopoDS_Face& face, const Vec3& about) {
    FaceMeasure measure;
    const FaceIntegral integral = integrate(face, about).value_or(FaceIntegral());
    measure.area = integral.area;
    measure.volume = integral.volume;
    measure.centroid = integral.centroid;
    describe_surface(face, measure);
    measure.box = box_of(face);
    return measure;
}

Measures measure(const Layout& layout, const Progress& progress) {
    Measures measures(layout.products.size());
    std::vector<Item> items;
    for (std::size_t p = 0; p < layout.products.size(); ++p) {
        const auto& bodies = layout.products[p];
        measures[p].resize(bodies.size());
        for (std::size_t b = 0; b < bodies.size(); ++b) {
            const Vec3 about = reference_point(bodies[b]);
            BodyMeasure& measure = measures[p][b];
            measure.faces.resize(bodies[b].faces.size());
            for (std::size_t f = 0; f < bodies[b].faces.size(); ++f)
                items.push_back({&bodies[b], &measure, f, about});
        }
    }
    // In the fresh process that reads a file, starting threads takes as long as measuring some hundred faces.
    constexpr std::size_t worth_threads = 500;
    const auto work = [&](int i) {
        if (!progress.cancelled()) work_on(items[static_cast<std::size_t>(i)]);
    };
    OSD_Parallel::For(0, static_cast<int>(items.size()), work, items.size() < worth_threads);
    for (auto& product : measures)
        for (BodyMeasure& body : product)
            for (const FaceMeasure& face : body.faces)
                body.volume += face.volume;
    return measures;
}

std::vector<std::vector<char>> check(const Layout& layout) {
    std::vector<std::vector<char>> valid(layout.products.size());
    std::vector<std::pair<const ProductBody*, char*>> items;
    for (std::size_t p = 0; p < layout.products.size(); ++p) {
        valid[p].assign(layout.products[p].size(), 1);
        for (std::size_t b = 0; b < layout.products[p].size(); ++b)
            if (layout.products[p][b].solid) items.emplace_back(&layout.products[p][b], &valid[p][b]);
    }
    const auto work = [&](int i, bool parallel) {
        const auto& [body, verdict] = items[static_cast<std::size_t>(i)];
        try {
            *verdict = BRepCheck_Analyzer(body->shape, Standard_True, parallel).IsValid();
        } catch (const Standard_Failure&) {
            *verdict = 0;
        }
    };
    if (items.size() == 1)
        work(0, true);
    else
        OSD_Parallel::For(0, static_cast<int>(items.size()), [&](int i) { work(i, false); });
    return valid;
}

} // namespace touchmark::part
