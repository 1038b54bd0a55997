// SPDX-License-Identifier: MIT
#include "core/imprint/check.h"

#include <BRepCheck_Analyzer.hxx>
#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>

#include <cmath>
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

bool fits_in_place_of(std::span<const TopoDS_Face> fresh, const TopoDS_Face& old) {
    EdgeUses before, after;
    before.add(old);
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

Status compare(const Balance& before, const Balance& after, double change) {
    if (after.solids != before.solids) return failed("it would leave " + std::to_string(after.solids) + " bodies");
    if (after.shells != before.shells) return failed("it would open a hollow inside the part or leave a new one");
    if (after.open_edges > before.open_edges) return failed("the changed surface would not be closed");
    if (before.volume > 0 && after.volume <= 0) return failed("the changed solid would be inside out");
    // Curved faces that were cut anew are integrated afresh: some 1e-7 of the whole part.
    const double allowed = 1e-3 * std::abs(change) + 1e-6 * std::abs(before.volume);
    if (std::abs(after.volume - before.volume - change) > allowed)
        return failed("the volume did not change by what the mark takes up");
    if (before.valid && !after.valid) return failed("the changed solid would have faults in its geometry");
    return {};
}

} // namespace touchmark::imprint
