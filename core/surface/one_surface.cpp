// SPDX-License-Identifier: MIT
#include "core/surface/one_surface.h"

#include "core/part/recognise.h"
#include "core/part/shape.h"
#include "core/part/vectors.h"
#include "core/surface/round_face.h"

#include <BRepAdaptor_Curve.hxx>
#include <BRep_Tool.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_MapOfShape.hxx>
#include <TopoDS.hxx>

#include <algorithm>
#include <cmath>
#include <optional>

namespace touchmark::surface {
namespace {

constexpr std::size_t most = 200; // faces of one surface; more is a pattern, not a surface

/// What can be said by the faces' descriptions alone.
bool may_go_on(const part::Face& a, const part::Face& b) {
    constexpr double parallel = 1e-9, near = 1e-5; // mm
    if (a.index == b.index || a.kind != b.kind || a.body != b.body) return false;
    const double way = dot(a.frame.z, b.frame.z);
    const Vec3 between = b.frame.origin - a.frame.origin;
    if (a.kind == part::FaceKind::plane) return way > 1 - parallel && std::abs(dot(between, a.frame.z)) < near;
    if (std::abs(way) < 1 - parallel || length(cross(between, a.frame.z)) > near) return false;
    return a.kind == part::FaceKind::cone ||
           (a.kind == part::FaceKind::cylinder && std::abs(a.radius_mm - b.radius_mm) < near);
}

/// The surface of a face, for asking whether others lie on it.
class Ground {
public:
    Ground(const part::Part& part, const part::Face& face)
        : face_(face), placing_(part::occurrence(part, face.body).location.Transformation()) {
        if (face.kind != part::FaceKind::plane) unrolling_ = unrolling_of(part::face_shape(part, face.index), placing_);
    }

    [[nodiscard]] bool carries(const part::Part& part, const part::Face& other) const {
        const TopoDS_Face& shape = part::face_shape(part, other.index);
        std::optional<Unrolling> own;
        if (face_.kind != part::FaceKind::plane) {
            own = unrolling_of(shape, placing_);
            if (!own || !unrolling_) return false;
        }
        for (TopExp_Explorer item(shape, TopAbs_EDGE); item.More(); item.Next()) {
            const TopoDS_Edge& edge = TopoDS::Edge(item.Current());
            if (BRep_Tool::Degenerated(edge)) continue;
            const BRepAdaptor_Curve curve(edge);
            const double first = curve.FirstParameter(), last = curve.LastParameter();
            for (const double part_of : {0.0, 0.5})
                if (!holds(part::vec(curve.Value(first + (last - first) * part_of).Transformed(placing_)), own))
                    return false;
        }
        return true;
    }

private:
    [[nodiscard]] bool holds(const Vec3& p, const std::optional<Unrolling>& other) const {
        if (!other) return std::abs(dot(p - face_.frame.origin, face_.frame.z)) <= part::taken_within;
        if (std::abs(unrolling_->height_of(p)) > part::taken_within) return false;
        const Vec3 a = unrolling_->normal(unrolling_->parameters_near(p).x),
                   b = other->normal(other->parameters_near(p).x);
        return dot(a, b) > 1 - 1e-9;
    }

    const part::Face& face_;
    gp_Trsf placing_;
    std::optional<Unrolling> unrolling_;
};

bool shares_an_edge(const TopoDS_Face& face, const TopTools_MapOfShape& edges) {
    for (TopExp_Explorer edge(face, TopAbs_EDGE); edge.More(); edge.Next())
        if (edges.Contains(edge.Current()) && !BRep_Tool::Degenerated(TopoDS::Edge(edge.Current()))) return true;
    return false;
}

} // namespace

std::vector<int> faces_of_one_surface(const part::Part& part, const part::Face& face) {
    std::vector<int> found{face.index}, candidates;
    if (face.kind != part::FaceKind::plane && face.kind != part::FaceKind::cylinder &&
        face.kind != part::FaceKind::cone)
        return found;
    for (const part::Face& other : part.faces())
        if (may_go_on(face, other)) candidates.push_back(other.index);
    if (candidates.empty()) return found;
    const Ground ground(part, face);
    for (std::size_t next = 0; next < found.size() && found.size() < most; ++next) {
        TopTools_MapOfShape edges;
        for (TopExp_Explorer edge(part::face_shape(part, found[next]), TopAbs_EDGE); edge.More(); edge.Next())
            edges.Add(edge.Current());
        std::erase_if(candidates, [&](int other) {
            if (!shares_an_edge(part::face_shape(part, other), edges)) return false;
            if (ground.carries(part, part.faces()[static_cast<std::size_t>(other)])) found.push_back(other);
            return true;
        });
    }
    std::sort(found.begin() + 1, found.end());
    return found;
}

std::vector<TopoDS_Face> shapes_of(const part::Part& part, std::span<const int> faces) {
    std::vector<TopoDS_Face> shapes;
    for (const int face : faces)
        shapes.push_back(part::face_shape(part, face));
    return shapes;
}

} // namespace touchmark::surface
