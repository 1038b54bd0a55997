// SPDX-License-Identifier: MIT
#include "core/imprint/check.h"

#include "core/part/face_integral.h"
#include "core/part/vectors.h"

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_TEdge.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp_Explorer.hxx>
#include <TopLoc_Location.hxx>
#include <TopTools_IndexedMapOfOrientedShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Iterator.hxx>

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace touchmark::imprint {
namespace {

/// How often faces use an edge.
struct Use {
    const BRep_TEdge* edge = nullptr;
    TopLoc_Location location;
    int place = 0; ///< hash of the location
    int forward = 0, reversed = 0;
    int within = 0; ///< faces that it lies in, bounding nothing there

    [[nodiscard]] bool of_same_edge(const Use& other) const {
        return edge == other.edge && place == other.place && location == other.location;
    }
    [[nodiscard]] bool as_often_as(const Use& other) const {
        return forward == other.forward && reversed == other.reversed && within == other.within;
    }
    /// A scar in a face bounds nothing; where two faces meet on the inside of a third, the solid touches itself.
    [[nodiscard]] bool closed() const {
        return within == 0 ? forward == 1 && reversed == 1 : forward == 0 && reversed == 0;
    }
};

/// One entry an edge, in the order of where edges lie in memory: a sorted list takes a fraction of a map's time.
using Uses = std::vector<Use>;

bool before(const Use& a, const Use& b) {
    return a.edge != b.edge ? std::less<>()(a.edge, b.edge) : a.place < b.place;
}

void add_edges(const TopoDS_Shape& face, Uses& uses) {
    for (TopoDS_Iterator wire(face); wire.More(); wire.Next()) {
        if (wire.Value().ShapeType() != TopAbs_WIRE) continue;
        for (TopoDS_Iterator item(wire.Value()); item.More(); item.Next()) {
            const TopoDS_Shape& edge = item.Value();
            const TopAbs_Orientation way = edge.Orientation();
            const auto* stored = static_cast<const BRep_TEdge*>(edge.TShape().get());
            if (stored->Degenerated()) continue;
            const TopLoc_Location& location = edge.Location();
            uses.push_back({stored, location, location.IsIdentity() ? 0 : location.HashCode(1 << 30),
                            way == TopAbs_FORWARD, way == TopAbs_REVERSED,
                            way != TopAbs_FORWARD && way != TopAbs_REVERSED});
        }
    }
}

Uses summed(Uses uses) {
    std::ranges::sort(uses, before);
    std::size_t count = 0;
    for (std::size_t i = 0; i < uses.size(); ++i) {
        std::size_t k = count;
        while (k > 0 && uses[k - 1].edge == uses[i].edge && !uses[k - 1].of_same_edge(uses[i]))
            --k;
        if (k > 0 && uses[k - 1].of_same_edge(uses[i])) {
            uses[k - 1].forward += uses[i].forward;
            uses[k - 1].reversed += uses[i].reversed;
            uses[k - 1].within += uses[i].within;
        } else {
            uses[count++] = uses[i];
        }
    }
    uses.resize(count);
    return uses;
}

Uses uses_by(std::span<const TopoDS_Face> faces) {
    Uses uses;
    uses.reserve(5 * faces.size());
    for (const TopoDS_Face& face : faces)
        add_edges(face, uses);
    return summed(std::move(uses));
}

Use use_of(const Use& edge, const Uses& uses) {
    for (auto at = std::ranges::lower_bound(uses, edge, before); at != uses.end() && at->edge == edge.edge; ++at)
        if (at->of_same_edge(edge)) return *at;
    return {};
}

} // namespace

int open_edges(const TopoDS_Shape& shape) {
    Uses uses;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        add_edges(face.Current(), uses);
    const Uses sums = summed(std::move(uses));
    return static_cast<int>(std::ranges::count_if(sums, [](const Use& use) { return !use.closed(); }));
}

bool fits_in_place_of(std::span<const TopoDS_Face> fresh, std::span<const TopoDS_Face> old) {
    const Uses was = uses_by(old), is = uses_by(fresh);
    for (const Use& use : is) {
        const Use earlier = use_of(use, was);
        if (earlier.edge ? !use.as_often_as(earlier) : !use.closed()) return false;
    }
    // A seam may have been cut up: it is nobody else's.
    return std::ranges::all_of(was, [&](const Use& use) { return use.closed() || use_of(use, is).edge; });
}

Balance balance_of(const TopoDS_Shape& shape) {
    Balance balance;
    for (TopExp_Explorer solid(shape, TopAbs_SOLID); solid.More(); solid.Next())
        ++balance.solids;
    for (TopExp_Explorer shell(shape, TopAbs_SHELL); shell.More(); shell.Next())
        ++balance.shells;
    balance.open_edges = open_edges(shape);
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    balance.volume = properties.Mass();
    balance.valid = BRepCheck_Analyzer(shape).IsValid();
    return balance;
}

std::unexpected<Error> failed(std::string_view why) {
    return fail("imprint.failed", "The mark could not be made: " + std::string(why) + ".",
                "Move the mark a little, or keep it clear of the face's edges.");
}

double volume_gained(const TopoDS_Shape& before, const TopoDS_Shape& after) {
    TopTools_IndexedMapOfOrientedShape old_faces, new_faces;
    for (TopExp_Explorer face(before, TopAbs_FACE); face.More(); face.Next())
        old_faces.Add(face.Current());
    for (TopExp_Explorer face(after, TopAbs_FACE); face.More(); face.Next())
        new_faces.Add(face.Current());
    std::optional<Vec3> about;
    for (int i = 1; i <= old_faces.Extent() && !about; ++i)
        if (!new_faces.Contains(old_faces(i)))
            if (TopExp_Explorer vertex(old_faces(i), TopAbs_VERTEX); vertex.More())
                about = part::vec(BRep_Tool::Pnt(TopoDS::Vertex(vertex.Current())));
    const auto others = [&](const TopTools_IndexedMapOfOrientedShape& faces,
                            const TopTools_IndexedMapOfOrientedShape& but) {
        double sum = 0;
        for (int i = 1; i <= faces.Extent(); ++i)
            if (!but.Contains(faces(i)))
                if (const auto integral = part::integrate(TopoDS::Face(faces(i)), about.value_or(Vec3{})))
                    sum += integral->volume;
        return sum;
    };
    return others(new_faces, old_faces) - others(old_faces, new_faces);
}

Result<double> compare(const TopoDS_Shape& old, const TopoDS_Shape& now, double change, int more_shells) {
    const Balance before = balance_of(old), after = balance_of(now);
    if (after.solids != before.solids) return failed("it would leave " + std::to_string(after.solids) + " bodies");
    if (after.shells != before.shells + more_shells)
        return failed("it would open a hollow inside the part or leave a new one");
    if (after.open_edges > before.open_edges) return failed("the changed surface would not be closed");
    if (before.volume > 0 && after.volume <= 0) return failed("the changed solid would be inside out");
    // Freeform faces that were cut anew are integrated afresh: some 1e-7 of the whole part.
    const double allowed = 1e-3 * std::abs(change) + 1e-7 * std::abs(before.volume);
    const double gained = volume_gained(old, now);
    if (std::abs(gained - change) > allowed) return failed("the volume did not change by what the mark takes up");
    if (before.valid && !after.valid) return failed("the changed solid would have faults in its geometry");
    return gained;
}

} // namespace touchmark::imprint
