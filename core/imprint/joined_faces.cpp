// SPDX-License-Identifier: MIT
#include "core/imprint/joined_faces.h"

#include "core/imprint/check.h"
#include "core/part/vectors.h"

#include <BRepTools_WireExplorer.hxx>
#include <BRep_Builder.hxx>
#include <BRep_Tool.hxx>
#include <Geom2d_Curve.hxx>
#include <GeomAPI_ProjectPointOnCurve.hxx>
#include <Geom_Curve.hxx>
#include <NCollection_DataMap.hxx>
#include <TopExp.hxx>
#include <TopTools_ShapeMapHasher.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>
#include <TopoDS_Vertex.hxx>

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

/// An edge as the solid's outside sees it run, the face on its left.
struct Side {
    TopoDS_Edge edge;
    int next = -1;
    bool used = false;
};

struct Part {
    TopoDS_Edge edge;        ///< forward
    bool from_start, to_end; ///< of the joint
};

struct Cut {
    double parameter;
    TopoDS_Vertex vertex;
};

using ByVertex = NCollection_DataMap<TopoDS_Shape, int, TopTools_ShapeMapHasher>;

/// The sides of one face, and where they begin at vertices of the mark.
struct Rebuilt {
    std::vector<Side> sides;
    ByVertex starts;
    bool touched = false;
};

Vec3 middle_of(const TopoDS_Edge& edge) {
    double first = 0, last = 0;
    const Handle(Geom_Curve) curve = BRep_Tool::Curve(edge, first, last);
    return part::vec(curve->Value((first + last) / 2));
}

class Rejoiner {
public:
    explicit Rejoiner(const JoinedFaces& joined)
        : joined_(joined), rebuilt_(joined.faces.size()), cuts_(joined.joints.size()) {}

    Result<std::vector<std::vector<TopoDS_Face>>> run(std::span<const RegionRims> rims) {
        for (const RegionRims& region : rims) {
            if (!add_rim(region.outer)) return failed("its outline meets an edge within its face in an odd way");
            for (const TopoDS_Wire& hole : region.holes)
                if (!add_rim(hole)) return failed("its outline meets an edge within its face in an odd way");
        }
        if (!part_joints()) return failed("an edge within its face cannot be parted");
        std::vector<std::vector<TopoDS_Face>> out;
        for (std::size_t k = 0; k < joined_.faces.size(); ++k) {
            if (!rebuilt_[k].touched) {
                out.push_back({joined_.faces[k]});
                continue;
            }
            if (!add_wires(k)) return failed("the edges of its face do not follow each other");
            Result<std::vector<TopoDS_Face>> faces = faces_of(k);
            if (!faces) return std::unexpected(faces.error());
            out.push_back(*std::move(faces));
        }
        return out;
    }

private:
    /// A contour of the mark, turned round: the faces are outside of it.
    bool add_rim(const TopoDS_Wire& wire) {
        std::vector<TopoDS_Edge> edges;
        std::vector<std::size_t> on;
        for (TopoDS_Iterator item(wire); item.More(); item.Next()) {
            edges.push_back(TopoDS::Edge(item.Value()));
            on.push_back(joined_.face_at(middle_of(edges.back())));
            if (on.back() >= joined_.faces.size()) return false;
        }
        const std::size_t count = edges.size();
        std::vector<int> at(count);
        for (std::size_t i = 0; i < count; ++i) {
            Rebuilt& face = rebuilt_[on[i]];
            face.touched = true;
            at[i] = static_cast<int>(face.sides.size());
            face.sides.push_back({TopoDS::Edge(edges[i].Reversed())});
        }
        for (std::size_t i = 0; i < count; ++i) {
            const std::size_t before = (i + count - 1) % count;
            if (on[before] == on[i]) {
                rebuilt_[on[i]].sides[static_cast<std::size_t>(at[i])].next = at[before];
                continue;
            }
            const TopoDS_Vertex vertex = TopExp::FirstVertex(edges[i], Standard_True);
            rebuilt_[on[before]].starts.Bind(vertex, at[before]);
            if (!add_cut(vertex, on[before], on[i])) return false;
        }
        return true;
    }

    /// Where the mark's outline goes from one face to the other.
    bool add_cut(const TopoDS_Vertex& vertex, std::size_t a, std::size_t b) {
        constexpr double near = 1e-5; // mm
        std::size_t best = joined_.joints.size();
        double least = near, parameter = 0;
        for (std::size_t j = 0; j < joined_.joints.size(); ++j) {
            const auto& of = joined_.joints[j].faces;
            if (!((of[0] == a && of[1] == b) || (of[0] == b && of[1] == a))) continue;
            double first = 0, last = 0;
            const Handle(Geom_Curve) curve = BRep_Tool::Curve(joined_.joints[j].edge, first, last);
            const GeomAPI_ProjectPointOnCurve foot(BRep_Tool::Pnt(vertex), curve, first, last);
            if (foot.NbPoints() == 0 || foot.LowerDistance() >= least) continue;
            best = j;
            least = foot.LowerDistance();
            parameter = foot.LowerDistanceParameter();
        }
        if (best == joined_.joints.size()) return false;
        cuts_[best].push_back({parameter, vertex});
        builder_.UpdateVertex(vertex, std::max(1.5 * least, BRep_Tool::Tolerance(joined_.joints[best].edge)));
        return true;
    }

    bool part_joints() {
        for (std::size_t j = 0; j < joined_.joints.size(); ++j) {
            const Joint& joint = joined_.joints[j];
            std::vector<Cut>& cuts = cuts_[j];
            std::ranges::sort(cuts, {}, &Cut::parameter);
            double first = 0, last = 0;
            const Handle(Geom_Curve) curve = BRep_Tool::Curve(joint.edge, first, last);
            std::vector<Part> parts;
            bool was_left = false;
            for (std::size_t i = 0; i <= cuts.size(); ++i) {
                const double from = i == 0 ? first : cuts[i - 1].parameter,
                             to = i == cuts.size() ? last : cuts[i].parameter;
                const bool left = !joined_.marked(part::vec(curve->Value((from + to) / 2)));
                if (i > 0 && left == was_left) return false; // crossed twice in one place
                was_left = left;
                if (left)
                    parts.push_back(
                        {cuts.empty() ? joint.edge : between(joint, cuts, i, from, to), i == 0, i == cuts.size()});
            }
            if (cuts.empty() && !parts.empty()) continue;
            for (const std::size_t face : joint.faces)
                rebuilt_[face].touched = true;
            parts_.Bind(joint.edge, parts);
        }
        return true;
    }

    TopoDS_Edge between(const Joint& joint, const std::vector<Cut>& cuts, std::size_t i, double from, double to) {
        TopLoc_Location location;
        double first = 0, last = 0;
        const Handle(Geom_Curve) curve = BRep_Tool::Curve(joint.edge, location, first, last);
        const double tolerance = BRep_Tool::Tolerance(joint.edge);
        TopoDS_Edge part;
        builder_.MakeEdge(part, curve, location, tolerance);
        for (const std::size_t face : joint.faces) {
            const HostSurface& on = joined_.surfaces[face];
            const Handle(Geom2d_Curve) flat =
                BRep_Tool::CurveOnSurface(joint.edge, on.surface, on.location, first, last);
            if (!flat.IsNull()) builder_.UpdateEdge(part, flat, on.surface, on.location, tolerance);
        }
        builder_.Add(part, (i == 0 ? TopExp::FirstVertex(joint.edge) : cuts[i - 1].vertex).Oriented(TopAbs_FORWARD));
        builder_.Add(part,
                     (i == cuts.size() ? TopExp::LastVertex(joint.edge) : cuts[i].vertex).Oriented(TopAbs_REVERSED));
        builder_.Range(part, from, to);
        return part;
    }

    /// The face's own edges, without what the mark takes of them.
    bool add_wires(std::size_t k) {
        const TopoDS_Face& face = joined_.faces[k];
        const TopoDS_Face forward = TopoDS::Face(face.Oriented(TopAbs_FORWARD));
        const bool back = face.Orientation() == TopAbs_REVERSED;
        for (TopoDS_Iterator item(forward); item.More(); item.Next()) {
            const TopoDS_Wire& wire = TopoDS::Wire(item.Value());
            std::vector<TopoDS_Edge> edges;
            for (BRepTools_WireExplorer along(wire, forward); along.More(); along.Next())
                edges.push_back(along.Current());
            if (static_cast<int>(edges.size()) != wire.NbChildren()) return false; // loose somewhere
            if (back) {
                std::ranges::reverse(edges);
                for (TopoDS_Edge& edge : edges)
                    edge.Reverse();
            }
            add_wire(rebuilt_[k], edges);
        }
        for (Side& side : rebuilt_[k].sides) {
            if (side.next >= 0) continue;
            const int* next = rebuilt_[k].starts.Seek(TopExp::LastVertex(side.edge, Standard_True));
            if (!next) return false;
            side.next = *next;
        }
        return true;
    }

    void add_wire(Rebuilt& face, const std::vector<TopoDS_Edge>& edges) {
        struct Placed {
            int side;
            bool goes_on, follows; ///< into the next edge, from the one before
        };
        std::vector<Placed> order;
        const auto place = [&](const TopoDS_Edge& edge, bool follows, bool goes_on) {
            order.push_back({static_cast<int>(face.sides.size()), goes_on, follows});
            if (!follows) face.starts.Bind(TopExp::FirstVertex(edge, Standard_True), order.back().side);
            face.sides.push_back({edge});
        };
        for (const TopoDS_Edge& edge : edges) {
            const std::vector<Part>* parts = parts_.Seek(edge);
            if (!parts) {
                place(edge, true, true);
                continue;
            }
            const bool back = edge.Orientation() == TopAbs_REVERSED;
            for (std::size_t i = 0; i < parts->size(); ++i) {
                const Part& part = (*parts)[back ? parts->size() - 1 - i : i];
                place(TopoDS::Edge(part.edge.Oriented(edge.Orientation())), back ? part.to_end : part.from_start,
                      back ? part.from_start : part.to_end);
            }
        }
        for (std::size_t i = 0; i < order.size(); ++i)
            if (const Placed& next = order[(i + 1) % order.size()]; order[i].goes_on && next.follows)
                face.sides[static_cast<std::size_t>(order[i].side)].next = next.side;
    }

    struct Loop {
        TopoDS_Wire wire;
        geometry::Polygon polygon;
        double area = 0; ///< positive round what is left of the face
    };

    static void append_points(const TopoDS_Edge& edge, const TopoDS_Face& face, geometry::Polygon& polygon) {
        double first = 0, last = 0;
        const Handle(Geom2d_Curve) curve = BRep_Tool::CurveOnSurface(edge, face, first, last);
        if (curve.IsNull()) return;
        constexpr int parts = 6;
        for (int i = 0; i < parts; ++i) {
            const double s = static_cast<double>(i) / parts;
            const gp_Pnt2d p =
                curve->Value(first + (last - first) * (edge.Orientation() == TopAbs_REVERSED ? 1 - s : s));
            polygon.push_back({p.X(), p.Y()});
        }
    }

    Result<std::vector<TopoDS_Face>> faces_of(std::size_t k) {
        const TopoDS_Face& face = joined_.faces[k];
        const double tolerance = BRep_Tool::Tolerance(face);
        const double way = face.Orientation() == TopAbs_REVERSED ? -1 : 1;
        const TopoDS_Face ground = face_on(joined_.surfaces[k], tolerance, face.Orientation());
        std::vector<Loop> outer, inner;
        std::vector<Side>& sides = rebuilt_[k].sides;
        for (Side& begin : sides) {
            if (begin.used) continue;
            Loop loop;
            builder_.MakeWire(loop.wire);
            for (Side* side = &begin; !side->used; side = &sides[static_cast<std::size_t>(side->next)]) {
                side->used = true;
                builder_.Add(loop.wire, side->edge);
                append_points(side->edge, ground, loop.polygon);
            }
            loop.wire.Closed(Standard_True);
            loop.area = way * geometry::area(loop.polygon);
            (loop.area > 0 ? outer : inner).push_back(std::move(loop));
        }
        std::vector<TopoDS_Face> out;
        for (const Loop& loop : outer) {
            out.push_back(face_on(joined_.surfaces[k], tolerance, face.Orientation()));
            builder_.Add(out.back(), loop.wire);
        }
        for (const Loop& loop : inner) {
            std::size_t around = outer.size();
            for (std::size_t i = 0; i < outer.size(); ++i)
                if (!loop.polygon.empty() && geometry::winding(outer[i].polygon, loop.polygon.front()) != 0 &&
                    (around == outer.size() || outer[i].area < outer[around].area))
                    around = i;
            if (around == outer.size()) return failed("a hole of the face would be left without it");
            builder_.Add(out[around], loop.wire);
        }
        return out;
    }

    BRep_Builder builder_;
    const JoinedFaces& joined_;
    std::vector<Rebuilt> rebuilt_;
    std::vector<std::vector<Cut>> cuts_; ///< of each joint
    NCollection_DataMap<TopoDS_Shape, std::vector<Part>, TopTools_ShapeMapHasher> parts_;
};

} // namespace

Result<std::vector<std::vector<TopoDS_Face>>> opened_across(const JoinedFaces& joined,
                                                            std::span<const RegionRims> rims) {
    return Rejoiner(joined).run(rims);
}

} // namespace touchmark::imprint
