// SPDX-License-Identifier: MIT
#include "core/imprint/general.h"

#include "core/imprint/flat_walls.h"
#include "core/imprint/freeform_walls.h"
#include "core/imprint/round_walls.h"
#include "core/imprint/scars.h"
#include "core/imprint/shaped_walls.h"
#include "core/part/guard.h"

#include <BOPAlgo_PaveFiller.hxx>
#include <BRepAlgoAPI_Common.hxx>
#include <BRepAlgoAPI_Cut.hxx>
#include <BRepAlgoAPI_Fuse.hxx>
#include <BRepGProp.hxx>
#include <GProp_GProps.hxx>
#include <TopExp.hxx>
#include <TopExp_Explorer.hxx>
#include <TopTools_IndexedMapOfShape.hxx>
#include <TopTools_ListOfShape.hxx>
#include <TopoDS.hxx>

#include <algorithm>
#include <cmath>
#include <memory>

namespace touchmark::imprint {
namespace {

double volume_of(const TopoDS_Shape& shape) {
    GProp_GProps properties;
    BRepGProp::VolumeProperties(shape, properties);
    return properties.Mass();
}

bool run(BRepAlgoAPI_BooleanOperation& operation, const TopTools_ListOfShape& solids,
         const TopTools_ListOfShape& tools) {
    operation.SetArguments(solids);
    operation.SetTools(tools);
    operation.SetNonDestructive(Standard_True);
    operation.SetCheckInverted(Standard_False);
    operation.Build();
    return operation.IsDone() && !operation.HasErrors();
}

} // namespace

Result<TopoDS_Solid> prism_of(const Site& site, const geometry::Region& region, double bottom, double top) {
    if (site.flat) {
        // From the floor to over the highest of the face.
        const FlatFloor& flat = *site.flat;
        return build_flat_prism(site, region, flat.height, flat.highest + top);
    }
    if (site.shape) {
        const bool cut = site.extent.low < 0;
        return build_shaped_body(site.frame, region, *site.shape, cut ? -1 : 1, cut ? top : -bottom);
    }
    if (site.chart) return build_freeform_prism(site, region, bottom, top);
    return site.unrolling ? build_round_prism(*site.unrolling, region, bottom, top)
                          : build_prism(site.frame, region, bottom, top);
}

PieceFinder::PieceFinder(const TopoDS_Shape& result, const Handle(BRepTools_History) & history) : history_(history) {
    TopExp::MapShapes(result, TopAbs_FACE, present_);
}

std::vector<TopoDS_Face> PieceFinder::of(const TopoDS_Shape& face) const {
    std::vector<TopoDS_Face> pieces;
    const auto offer = [&](const TopoDS_Shape& piece) {
        if (const int index = present_.FindIndex(piece)) pieces.push_back(TopoDS::Face(present_(index)));
    };
    const TopTools_ListOfShape& modified = history_->Modified(face);
    if (modified.IsEmpty()) offer(face);
    for (const TopoDS_Shape& piece : modified)
        offer(piece);
    return pieces;
}

namespace {

Result<Boolean> attempt(const TopoDS_Shape& solid, const Site& site, std::span<const geometry::Region> regions,
                        const Prisms& prisms, double fuzzy, const Progress& progress) {
    TopTools_ListOfShape solids, tools, all;
    solids.Append(solid);
    all.Append(solid);
    double tool_volume = 0;
    for (const geometry::Region& region : regions) {
        const Result<TopoDS_Solid> prism = prism_of(site, region, prisms.bottom, prisms.top);
        if (!prism) return std::unexpected(prism.error());
        tool_volume += volume_of(*prism);
        tools.Append(*prism);
        all.Append(*prism);
    }
    // One intersection serves both the operation and the check.
    BOPAlgo_PaveFiller intersection;
    intersection.SetArguments(all);
    intersection.SetNonDestructive(Standard_True);
    intersection.SetFuzzyValue(fuzzy);
    intersection.SetRunParallel(Standard_True);
    const Handle(part::ProgressBridge) bridge = new part::ProgressBridge(progress, "Cutting over the edge");
    intersection.Perform(bridge->Start());
    if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
    if (intersection.HasErrors()) return failed("the general cut over the face's edge found no intersection");
    std::unique_ptr<BRepAlgoAPI_BooleanOperation> operation;
    if (prisms.cut)
        operation = std::make_unique<BRepAlgoAPI_Cut>(intersection);
    else
        operation = std::make_unique<BRepAlgoAPI_Fuse>(intersection);
    BRepAlgoAPI_Common common(intersection);
    if (!run(*operation, solids, tools) || !run(common, solids, tools))
        return failed("the general cut over the face's edge broke off");

    Boolean out;
    const double shared = volume_of(common.Shape());
    out.volume_change = prisms.cut ? -shared : tool_volume - shared;
    out.history = operation->History();
    std::vector<TopoDS_Shape> left;
    for (TopExp_Explorer found(operation->Shape(), TopAbs_SOLID); found.More(); found.Next())
        left.push_back(found.Current());
    if (left.size() != 1) return failed("it would leave " + std::to_string(left.size()) + " bodies");
    out.solid = left[0];
    remove_scars(out.solid, solid, out.history);
    const PieceFinder pieces(out.solid, out.history);
    for (const TopoDS_Shape& tool : tools)
        for (TopExp_Explorer face(tool, TopAbs_FACE); face.More(); face.Next())
            for (const TopoDS_Face& piece : pieces.of(face.Current()))
                out.made.push_back(piece);
    if (prisms.cut)
        for (TopExp_Explorer piece(common.Shape(), TopAbs_SOLID); piece.More(); piece.Next())
            out.removed.push_back(piece.Current());
    const int hollows = prisms.more_shells > 0 ? static_cast<int>(regions.size()) : prisms.more_shells;
    const Result<double> gained = compare(solid, out.solid, out.volume_change, hollows);
    if (!gained) return std::unexpected(gained.error());
    // The tools' own is good for some 1e-4 where they are splines; what has changed is known better.
    out.volume_change = *gained;
    return out;
}

/// What is tried for one set of regions: as it is; with a wider tolerance, where edges all but coincide; moved by less
/// than can be printed.
Result<Boolean> persistent(const TopoDS_Shape& solid, const Site& site, std::span<const geometry::Region> regions,
                           const Prisms& prisms, const Progress& progress) {
    constexpr double wider = 1e-5, shift = 2e-4; // mm
    Result<Boolean> made = attempt(solid, site, regions, prisms, 0, progress);
    const auto give_up = [&] { return made || made.error().code == cancelled_code; };
    if (give_up()) return made;
    made = attempt(solid, site, regions, prisms, wider, progress);
    for (const Vec2 by : {Vec2{shift, shift / 2}, Vec2{-shift, shift / 2}}) {
        if (give_up()) return made;
        std::vector<geometry::Region> moved(regions.begin(), regions.end());
        moved = geometry::transformed(geometry::Outline{moved}, geometry::Affine::translation(by)).regions;
        made = attempt(solid, site, moved, prisms, 0, progress);
    }
    return made;
}

/// One region after the other.
Result<Boolean> one_by_one(const TopoDS_Shape& solid, const Site& site, std::span<const geometry::Region> regions,
                           Prisms prisms, const Progress& progress) {
    Boolean out{solid, {}, {}, 0, new BRepTools_History};
    for (const geometry::Region& region : regions) {
        Result<Boolean> next = persistent(out.solid, site, std::span(&region, 1), prisms, progress);
        if (!next) return next;
        const PieceFinder pieces(next->solid, next->history);
        for (const TopoDS_Face& face : out.made)
            for (const TopoDS_Face& piece : pieces.of(face))
                next->made.push_back(piece);
        out.history->Merge(next->history);
        out.made = std::move(next->made);
        out.solid = next->solid;
        out.removed.insert(out.removed.end(), next->removed.begin(), next->removed.end());
        out.volume_change += next->volume_change;
        prisms.more_shells = std::max(prisms.more_shells, 0); // a hollow is opened once
    }
    return out;
}

} // namespace

Prisms prisms_of(const Footprint& mark, const Site& site) {
    switch (mark.mode) {
    case Mode::raise:
        return {-overshoot, site.extent.high, false};
    case Mode::hidden:
        return {site.extent.low, site.extent.high, true, 1};
    default:
        return {site.extent.low, overshoot, true};
    }
}

Result<Boolean> apply_general(const TopoDS_Shape& solid, const Site& site, std::span<const geometry::Region> regions,
                              const Prisms& prisms, const Progress& progress) {
    Result<Boolean> made = persistent(solid, site, regions, prisms, progress);
    if (made || made.error().code == cancelled_code || regions.size() < 2) return made;
    return one_by_one(solid, site, regions, prisms, progress);
}

} // namespace touchmark::imprint
