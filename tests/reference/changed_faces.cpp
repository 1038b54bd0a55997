// SPDX-License-Identifier: MIT
#include "tests/reference/changed_faces.h"

#include <BRepGProp.hxx>
#include <BRepGProp_Domain.hxx>
#include <BRepGProp_Face.hxx>
#include <BRepGProp_Vinert.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Face.hxx>

#include <algorithm>
#include <vector>

namespace touchmark::test {
namespace {

constexpr double same_place = 1e-6, same_size = 1e-6; // mm; of the area

struct Known {
    TopoDS_Face face;
    double area = 0;
    gp_Pnt centroid;
    std::vector<gp_Pnt> vertices;
    bool taken = false;
};

std::vector<Known> faces_of(const TopoDS_Shape& shape) {
    std::vector<Known> faces;
    for (TopExp_Explorer item(shape, TopAbs_FACE); item.More(); item.Next()) {
        Known known;
        known.face = TopoDS::Face(item.Current());
        GProp_GProps properties;
        BRepGProp::SurfaceProperties(known.face, properties);
        known.area = properties.Mass();
        known.centroid = properties.CentreOfMass();
        for (TopExp_Explorer vertex(known.face, TopAbs_VERTEX); vertex.More(); vertex.Next())
            known.vertices.push_back(BRep_Tool::Pnt(TopoDS::Vertex(vertex.Current())));
        faces.push_back(std::move(known));
    }
    return faces;
}

bool all_among(const std::vector<gp_Pnt>& some, const std::vector<gp_Pnt>& others) {
    return std::ranges::all_of(some, [&](const gp_Pnt& point) {
        return std::ranges::any_of(others, [&](const gp_Pnt& other) { return point.Distance(other) < same_place; });
    });
}

bool are_same(const Known& a, const Known& b) {
    return std::abs(a.area - b.area) < same_size * a.area && a.centroid.Distance(b.centroid) < 10 * same_place &&
           all_among(a.vertices, b.vertices) && all_among(b.vertices, a.vertices);
}

double flux(const TopoDS_Face& face, const gp_Pnt& origin) {
    BRepGProp_Face integrand(face);
    BRepGProp_Domain domain(face);
    return BRepGProp_Vinert(integrand, domain, origin, 1e-10).Mass();
}

} // namespace

ChangedFaces changed_faces(const TopoDS_Shape& before, const TopoDS_Shape& after, Vec3 origin) {
    const gp_Pnt about(origin.x, origin.y, origin.z);
    std::vector<Known> old_faces = faces_of(before);
    ChangedFaces changed;
    for (const Known& face : faces_of(after)) {
        const auto same =
            std::ranges::find_if(old_faces, [&](const Known& old) { return !old.taken && are_same(old, face); });
        if (same != old_faces.end()) {
            same->taken = true;
            ++changed.kept;
        } else {
            ++changed.made;
            changed.volume += flux(face.face, about);
        }
    }
    for (const Known& face : old_faces) {
        if (face.taken) continue;
        ++changed.gone;
        changed.volume -= flux(face.face, about);
    }
    return changed;
}

} // namespace touchmark::test
