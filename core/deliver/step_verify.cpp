// SPDX-License-Identifier: MIT
#include "core/deliver/step_verify.h"

#include "core/part/shape.h"

#include <BRepGProp.hxx>
#include <BRep_Tool.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopoDS.hxx>
#include <TopoDS_Edge.hxx>

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace touchmark::deliver {
namespace {

std::unexpected<Error> differs(const std::string& what) {
    return fail("deliver.verify", "What was written reads back differently: " + what + ".",
                "Nothing was saved. Try the other STEP version, or save the job and report this part.");
}

std::string number(double value) {
    std::array<char, 64> text{};
    const auto end = std::to_chars(text.data(), text.data() + text.size(), value, std::chars_format::general, 12);
    return {text.data(), end.ptr};
}

/// Every edge of the shell used once in each direction, seams and all; degenerated edges bound nothing.
bool closed(const TopoDS_Shape& solid) {
    for (TopExp_Explorer shells(solid, TopAbs_SHELL); shells.More(); shells.Next()) {
        TopTools_IndexedMapOfShape edges;
        std::vector<int> balance, uses;
        for (TopExp_Explorer faces(shells.Current(), TopAbs_FACE); faces.More(); faces.Next())
            for (TopExp_Explorer edge(faces.Current(), TopAbs_EDGE); edge.More(); edge.Next()) {
                const TopAbs_Orientation way = edge.Current().Orientation();
                if (way != TopAbs_FORWARD && way != TopAbs_REVERSED) continue;
                if (BRep_Tool::Degenerated(TopoDS::Edge(edge.Current()))) continue;
                const auto index = static_cast<std::size_t>(edges.Add(edge.Current()));
                balance.resize(std::max(balance.size(), index)), uses.resize(balance.size());
                balance[index - 1] += way == TopAbs_FORWARD ? 1 : -1;
                ++uses[index - 1];
            }
        if (std::ranges::any_of(balance, [](int b) { return b != 0; })) return false;
        if (std::ranges::any_of(uses, [](int n) { return n < 2; })) return false;
    }
    return true;
}

struct Counts {
    int solids = 0, invalid = 0, open = 0, free_faces = 0;

    explicit Counts(const part::Part& part) {
        for (std::size_t i = 0; i < part.bodies().size(); ++i) {
            const part::Body& body = part.bodies()[i];
            if (!body.solid) {
                free_faces += body.face_count;
                continue;
            }
            ++solids;
            invalid += !body.valid;
            open += !closed(part::occurrence(part, static_cast<int>(i)).shape);
        }
    }
};

/// The part's own figures are quick, and on freeform faces good for some 1e-4 of the area; two descriptions of the same
/// face may differ by that. This takes longer and does not; but it does not bridge gaps in a loose boundary.
double volume_within(const TopoDS_Shape& solid, double relative_error) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(solid, properties, relative_error);
    return properties.Mass();
}

/// The difference in volume of the bodies whose quick figures differ, mm³.
double difference(const part::Part& meant, const part::Part& back, double tolerance) {
    double sum = 0;
    for (std::size_t i = 0; i < meant.bodies().size() && i < back.bodies().size(); ++i) {
        const double quick = back.bodies()[i].volume_mm3 - meant.bodies()[i].volume_mm3;
        if (!meant.bodies()[i].solid || !back.bodies()[i].solid) continue;
        if (std::abs(quick) * static_cast<double>(meant.bodies().size()) <= tolerance) {
            sum += quick;
            continue;
        }
        const auto body = static_cast<int>(i);
        sum += volume_within(part::occurrence(back, body).shape, 1e-9) -
               volume_within(part::occurrence(meant, body).shape, 1e-9);
    }
    return sum;
}

/// How far the volume may be off because curves on freeform surfaces are found anew when a file is read, mm³: each edge
/// may lie so far beside its face as its tolerance says, which moves the face's share in the volume by that times its
/// length times a third of the distance from the middle. Never more than a hundred-thousandth of the volume.
double slack_of_curves(const part::Part& part, double volume) {
    constexpr double exact = 1e-6; // mm
    double sum = 0;
    for (std::size_t i = 0; i < part.bodies().size(); ++i) {
        if (!part.bodies()[i].solid) continue;
        const TopoDS_Shape& solid = part::occurrence(part, static_cast<int>(i)).shape;
        TopTools_IndexedMapOfShape edges;
        TopExp::MapShapes(solid, TopAbs_EDGE, edges);
        const double reach = length(part.box().size()) / 2 / 3;
        for (int k = 1; k <= edges.Extent(); ++k) {
            const TopoDS_Edge& edge = TopoDS::Edge(edges(k));
            const double tolerance = BRep_Tool::Tolerance(edge);
            if (tolerance <= exact || BRep_Tool::Degenerated(edge)) continue;
            GProp_GProps line;
            BRepGProp::LinearProperties(edge, line);
            sum += tolerance * line.Mass() * reach;
        }
    }
    return std::min(sum, 1e-5 * std::abs(volume));
}

} // namespace

Status same_part(const part::Part& meant, const part::Part& back, const StepOptions& options) {
    const Counts wanted(meant), found(back);
    if (wanted.solids != found.solids)
        return differs(std::to_string(found.solids) + " solids instead of " + std::to_string(wanted.solids));
    if (meant.bodies().size() != back.bodies().size())
        return differs(std::to_string(back.bodies().size()) + " bodies instead of " +
                       std::to_string(meant.bodies().size()));
    if (meant.faces().size() != back.faces().size())
        return differs(std::to_string(back.faces().size()) + " faces instead of " +
                       std::to_string(meant.faces().size()));
    // A part that came in damaged may leave as it came, but no worse.
    if (found.invalid > wanted.invalid) return differs("a solid is not valid");
    if (found.open > wanted.open) return differs("a solid is not closed");
    const double volume = options.volume_mm3.value_or(meant.volume_mm3());
    const double tolerance =
        options.volume_tolerance_mm3 > 0 ? options.volume_tolerance_mm3 : std::max(1e-6, 1e-6 * std::abs(volume));
    const auto near = [&](double value) { return std::abs(value - volume) <= tolerance; };
    if (near(back.volume_mm3())) return {};
    const double allowed = tolerance + slack_of_curves(back, volume);
    if (std::abs(back.volume_mm3() - volume) <= allowed) return {};
    if (near(meant.volume_mm3()) && std::abs(difference(meant, back, tolerance)) <= allowed) return {};
    return differs("the volume is " + number(back.volume_mm3()) + " mm³ instead of " + number(volume) + " mm³");
}

} // namespace touchmark::deliver
