// SPDX-License-Identifier: MIT
#include "core/imprint/check.h"

#include "core/part/face_integral.h"
#include "core/part/vectors.h"

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfOrientedShape.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

#include <cmath>
#include <optional>
#include <string>
#include <vector>

namespace touchmark::imprint {
namespace {

/// Uses of each edge, forward and reversed.
class EdgeUses {
public:
    void add(const TopoDS_Shape& shape) {
        for (TopExp_Explorer edge(shape, TopAbs_EDGE); edge.More(); edge.Next()) {
            const TopAbs_Orientation way = edge.Current().Orientation();
            if ((way != TopAbs_FORWARD && way != TopAbs_REVERSED) ||
                BRep_Tool::Degenerated(TopoDS::Edge(edge.Current())))
                continue;
            const auto index = static_cast<std::size_t>(edges_.Add(edge.Current()));
            if (uses_.size() < index) uses_.resize(index);
            (way == TopAbs_FORWARD ? uses_[index - 1].forward : uses_[index - 1].reversed)++;
        }
    }
    struct Uses {
        int forward = 0, reversed = 0;
        friend bool operator==(const Uses&, const Uses&) = default;
    };
    [[nodiscard]] Uses of(const TopoDS_Shape& edge) const {
        const int index = edges_.FindIndex(edge);
        return index ? uses_[static_cast<std::size_t>(index - 1)] : Uses{};
    }
    [[nodiscard]] int count() const { return edges_.Extent(); }
    [[nodiscard]] const TopoDS_Shape& edge(int i) const { return edges_(i + 1); }

private:
    TopTools_IndexedMapOfShape edges_;
    std::vector<Uses> uses_;
};

} // namespace

int open_edges(const TopoDS_Shape& shape) {
    EdgeUses uses;
    for (TopExp_Explorer face(shape, TopAbs_FACE); face.More(); face.Next())
        uses.add(face.Current());
    int open = 0;
    for (int i = 0; i < uses.count(); ++i)
        if (uses.of(uses.edge(i)) != EdgeUses::Uses{1, 1}) ++open;
    return open;
}

bool fits_in_place_of(std::span<const TopoDS_Face> fresh, std::span<const TopoDS_Face> old) {
    EdgeUses before, after;
    for (const TopoDS_Face& face : old)
        before.add(face);
    for (const TopoDS_Face& face : fresh)
        after.add(face);
    for (int i = 0; i < after.count(); ++i) {
        const EdgeUses::Uses was = before.of(after.edge(i)), is = after.of(after.edge(i));
        const bool new_edge = was == EdgeUses::Uses{};
        if (is != (new_edge ? EdgeUses::Uses{1, 1} : was)) return false;
    }
    // A seam may have been cut up: it is nobody else's.
    for (int i = 0; i < before.count(); ++i)
        if (after.of(before.edge(i)) == EdgeUses::Uses{} && before.of(before.edge(i)) != EdgeUses::Uses{1, 1})
            return false;
    return true;
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

Status compare(const TopoDS_Shape& old, const TopoDS_Shape& now, double change, int more_shells) {
    const Balance before = balance_of(old), after = balance_of(now);
    if (after.solids != before.solids) return failed("it would leave " + std::to_string(after.solids) + " bodies");
    if (after.shells != before.shells + more_shells)
        return failed("it would open a hollow inside the part or leave a new one");
    if (after.open_edges > before.open_edges) return failed("the changed surface would not be closed");
    if (before.volume > 0 && after.volume <= 0) return failed("the changed solid would be inside out");
    // Freeform faces that were cut anew are integrated afresh: some 1e-7 of the whole part.
    const double allowed = 1e-3 * std::abs(change) + 1e-7 * std::abs(before.volume);
    if (std::abs(volume_gained(old, now) - change) > allowed)
        return failed("the volume did not change by what the mark takes up");
    if (before.valid && !after.valid) return failed("the changed solid would have faults in its geometry");
    return {};
}

} // namespace touchmark::imprint
