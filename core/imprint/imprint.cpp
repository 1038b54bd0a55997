// SPDX-License-Identifier: MIT
#include "core/imprint/imprint.h"

#include "core/base/number_text.h"
#include "core/base/parallel.h"
#include "core/geometry/contacts.h"
#include "core/imprint/check.h"
#include "core/imprint/clearance_check.h"
#include "core/imprint/extent.h"
#include "core/imprint/flat_floor.h"
#include "core/imprint/freeform_limits.h"
#include "core/imprint/overlap.h"
#include "core/imprint/product_edit.h"
#include "core/part/guard.h"
#include "core/surface/unrolling.h"

#include <algorithm>
#include <cmath>

namespace touchmark::imprint {
namespace {

/// Direct editing and booleans alike turn contours that meet into faulty solids.
Status well_formed(std::span<const Footprint> marks) {
    for (const Footprint& mark : marks) {
        std::vector<geometry::Contour> contours;
        geometry::append_contours(mark.outline, contours);
        constexpr double resolution = 5e-6; // mm; an Outline keeps twice that
        const auto found = geometry::contacts(contours, resolution);
        if (!found || !found->empty())
            return fail("imprint.contours", "Contours of \"" + mark.name + "\" cross or touch each other.",
                        "Draw it without overlaps; text, codes and line art of this program have none.");
    }
    return {};
}

/// Walls that lean or are rounded must leave a floor of the outline's shape.
Status well_shaped(const Footprint& mark) {
    const std::optional<WallShape> shape = shape_of(mark);
    const auto unusable = [&](const std::string& what, std::string hint) {
        return fail("imprint.draft", "The walls of \"" + mark.name + "\" " + what, std::move(hint));
    };
    constexpr double steepest = 60, widest = 1e3;
    if (!has_shaped_walls(mark.mode)) return {};
    if (!(mark.draft.value >= 0 && mark.draft.value <= steepest) ||
        !(mark.floor_rounding.value >= 0 && mark.floor_rounding.value <= widest))
        return unusable("cannot have that shape.", "Enter a draft from 0 to 60° and a rounding above 0.");
    if (!shape) return {};
    if (mark.map->kind() != part::FaceKind::plane)
        return unusable("can lean or be rounded on flat faces only.", "Set draft and rounding to 0 on this face.");
    if (shape->rounding > 0 && bands_of(*shape).back().from.depth < 0)
        return unusable("are not high enough for a rounding of " + text_of(mark.floor_rounding) + ".",
                        "Make the rounding smaller or the mark deeper.");
    for (const geometry::Region& region : mark.outline.regions)
        if (geometry::inset_fault(region, geometry::InsetRegion(region), shape->reach()))
            return unusable("would meet before they reach the floor: they come in by " + text_of(Mm(shape->reach())) +
                                " on each side, and somewhere there is no room for that.",
                            "Lower the draft or the rounding, make the mark shallower, or larger.");
    return {};
}

Status usable(const part::Part& part, std::span<const Footprint> marks) {
    for (const Footprint& mark : marks) {
        if (mark.mode != Mode::through && !(mark.depth.value >= 1e-3 && mark.depth.value <= 1e4))
            return fail("imprint.depth", "The depth of \"" + mark.name + "\" is not a usable length.",
                        "Enter a depth above 0, in millimetres.");
        if (!mark.map || mark.map->face() < 0 || mark.map->face() >= static_cast<int>(part.faces().size()))
            return fail("imprint.outside", "The mark \"" + mark.name + "\" has no face.", "Place it on a face.");
        if (mark.outline.empty())
            return fail("imprint.outside", "The mark \"" + mark.name + "\" has nothing to make.", "Give it a text.");
        if (mark.mode == Mode::hidden && !(mark.cover.value >= 1e-3 && mark.cover.value <= 1e4))
            return fail("imprint.depth", "The cover over \"" + mark.name + "\" is not a usable length.",
                        "Enter a cover above 0, in millimetres.");
        if (const Status good = well_shaped(mark); !good) return good;
        if (has_flat_floor(mark))
            if (const Status good = within_reach(mark, flat_floor(mark)); !good) return good;
        const part::Face& face = part.faces()[static_cast<std::size_t>(mark.map->face())];
        const part::Body& body = part.bodies()[static_cast<std::size_t>(face.body)];
        if (!body.solid || body.volume_mm3 <= 0)
            return fail("imprint.failed",
                        "\"" + body.name + "\" is not a solid with material inside, so \"" + mark.name +
                            "\" cannot be made on it.",
                        "Choose a face of a solid body.");
    }
    return {};
}

/// Where a cut on a shaft, or what is raised in a bore, would reach the axis.
Status clear_of_the_axis(std::span<const Footprint> marks, std::span<const FarSide> far) {
    constexpr double least = 0.05; // mm
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const Footprint& mark = marks[i];
        const surface::Unrolling* round = mark.map->unrolling();
        if (!round || has_flat_floor(mark)) continue;
        const double height = mark.mode == Mode::through ? -far[i].farthest : extent_of(mark).reach();
        for (const geometry::Polygon& polygon : geometry::flattened(mark.outline, 0.1))
            for (const Vec2 p : polygon) {
                const double axis = round->axis_height(round->parameters(p).y);
                if (axis * height > 0 && std::abs(height) > std::abs(axis) - least)
                    return fail("imprint.depth",
                                "\"" + mark.name + "\" is " + text_of(Mm(std::abs(height))) +
                                    (height < 0 ? " deep" : " high") + ", but the axis of its face is only " +
                                    text_of(Mm(std::abs(axis))) + " away.",
                                "Make it shallower.");
            }
    }
    return {};
}

Digest recipe(const part::Part& part, std::span<const Footprint> marks) {
    Digester digester;
    digester.add("imprint").add(part.digest());
    for (const Footprint& mark : marks)
        add(digester, mark);
    return digester.digest();
}

/// One edit a body, with the faces that carry marks or let them out.
std::vector<BodyEdit> edits_for(const part::Part& part, std::span<const Footprint> marks, std::span<const FarSide> far,
                                const Obstacles& obstacles) {
    std::vector<std::pair<int, std::vector<int>>> faces;
    const auto take = [&](int face) {
        const int body = part.faces()[static_cast<std::size_t>(face)].body;
        auto entry = std::find_if(faces.begin(), faces.end(), [&](const auto& e) { return e.first == body; });
        if (entry == faces.end()) entry = faces.insert(faces.end(), {body, {}});
        if (std::find(entry->second.begin(), entry->second.end(), face) == entry->second.end())
            entry->second.push_back(face);
    };
    for (std::size_t i = 0; i < marks.size(); ++i) {
        for (const int face : marks[i].map->faces())
            take(face);
        for (const int face : far[i].faces)
            take(face);
    }
    std::vector<BodyEdit> edits;
    for (const auto& [body, carrying] : faces)
        edits.emplace_back(
            part, body, carrying,
            Material(obstacles.mesh_of(body), part::occurrence(part, body).location, obstacles.mesh_tolerance()));
    return edits;
}

/// What the new part's own measurement says against what was to happen; the last gate, and independent of how the faces
/// were made.
Status bodies_balance(const part::Part& before, const part::Part& after, std::span<const BodyEdit> edits) {
    const auto filler_of = [&](const part::Body& body) -> const BodyEdit::Filler* {
        const TopoDS_Shape& shape = part::occurrence(after, static_cast<int>(&body - after.bodies().data())).shape;
        for (const BodyEdit& edit : edits)
            for (const BodyEdit::Filler& filler : edit.fillers())
                if (filler.solid.IsSame(shape)) return &filler;
        return nullptr;
    };
    std::vector<const part::Body*> own;
    std::size_t fillers = 0, made = 0;
    for (const BodyEdit& edit : edits)
        made += edit.fillers().size();
    for (const part::Body& body : after.bodies()) {
        const BodyEdit::Filler* filler = filler_of(body);
        if (!filler) {
            own.push_back(&body);
            continue;
        }
        ++fillers;
        if (std::abs(body.volume_mm3 - filler->volume) > 1e-3 * filler->volume)
            return failed("a body of the inlay would not fill its pocket");
    }
    if (before.bodies().size() != own.size() || fillers != made) return failed("the number of bodies changed");
    for (std::size_t i = 0; i < before.bodies().size(); ++i) {
        const part::Body& was = before.bodies()[i];
        const part::Body& is = *own[i];
        const auto edit = std::find_if(edits.begin(), edits.end(),
                                       [&](const BodyEdit& e) { return e.body() == static_cast<int>(i); });
        const double change = edit == edits.end() ? 0.0 : edit->volume_change();
        if (was.solid && is.volume_mm3 <= 0) return failed("a solid would be inside out");
        if (std::abs(is.volume_mm3 - was.volume_mm3 - change) > 1e-3 * std::abs(change) + 1e-6 * was.volume_mm3)
            return failed("the volume did not change by what the mark takes up");
    }
    return {};
}

Error naming(Error error, const Footprint& mark) {
    if (error.code == "imprint.failed" && !mark.name.empty()) error.message = "\"" + mark.name + "\": " + error.message;
    return error;
}

struct Surroundings {
    std::shared_ptr<const Obstacles> obstacles;
    std::vector<FarSide> far; ///< one a mark
};

/// What lies behind and around the marks, where it leaves room for them.
Result<Surroundings> surroundings(const part::Part& part, std::span<const Footprint> marks, const Options& options,
                                  const Progress& progress) {
    auto obstacles = Obstacles::of(part, options.deflection, progress);
    if (!obstacles) return std::unexpected(obstacles.error());
    std::vector<FarSide> far(marks.size());
    for (std::size_t i = 0; i < marks.size(); ++i)
        if (marks[i].mode == Mode::through) {
            Result<FarSide> side = (*obstacles)->far_side(marks[i]);
            if (!side) return std::unexpected(side.error());
            far[i] = *std::move(side);
        }
    if (const Status good = clear_of_the_axis(marks, far); !good) return std::unexpected(good.error());
    if (const Status good = clear_of_the_rest(part, marks, **obstacles, far, options, progress); !good)
        return std::unexpected(good.error());
    return Surroundings{*std::move(obstacles), std::move(far)};
}

Result<Imprinted> make(const part::PartPtr& part, std::span<const Footprint> marks, const Options& options,
                       const Progress& progress) {
    if (const Status good = usable(*part, marks); !good) return std::unexpected(good.error());
    if (const Status good = within_curvature(marks); !good) return std::unexpected(good.error());
    if (const Status good = apart(marks); !good) return std::unexpected(good.error());
    progress.report(0.05, "Looking at what lies behind the marks");
    Status formed;
    Result<Surroundings> around;
    side_by_side(2, [&](std::size_t i, std::size_t) {
        if (i == 0)
            around = surroundings(*part, marks, options, progress);
        else
            formed = well_formed(marks);
    });
    if (!formed) return std::unexpected(formed.error());
    if (!around) return std::unexpected(around.error());
    const auto& [obstacles, far] = *around;

    Imprinted out;
    out.marks.reserve(marks.size());
    std::vector<BodyEdit> edits = edits_for(*part, marks, far, *obstacles);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        if (progress.cancelled()) return fail(std::string(cancelled_code), "Cancelled.");
        progress.report(0.2 + 0.6 * static_cast<double>(i) / static_cast<double>(marks.size()), "Making the marks");
        const int body = part->faces()[static_cast<std::size_t>(marks[i].map->face())].body;
        BodyEdit& edit = *std::find_if(edits.begin(), edits.end(), [&](const BodyEdit& e) { return e.body() == body; });
        const Result<MarkResult> made = edit.apply(marks[i], static_cast<int>(i), options.route, &far[i], progress);
        if (!made) return std::unexpected(naming(made.error(), marks[i]));
        out.marks.push_back(*made);
    }
    part::Model model = part::model(*part);
    for (const BodyEdit& edit : edits)
        put_back(model, *part, edit, marks);
    progress.report(0.8, "Checking the marked part");
    Result<part::PartPtr> marked = part::make_part(std::move(model), recipe(*part, marks), *part, progress);
    if (!marked) return std::unexpected(marked.error());
    if (const Status good = bodies_balance(*part, **marked, edits); !good) return std::unexpected(good.error());
    out.part = std::move(*marked);
    progress.report(1, "Marked");
    return out;
}

} // namespace

void add(Digester& digester, const Footprint& mark) {
    digester.add(mark.name).add(mark.map->face()).add(mark.mode).add(mark.depth.value);
    digester.add(mark.cover.value);
    if (has_flat_floor(mark)) digester.add(mark.anchor.x).add(mark.anchor.y);
    digester.add(mark.floor).add(mark.draft.value).add(mark.floor_rounding.value);
    geometry::add(digester, mark.outline);
    if (mark.map->chart()) { // its map depends on where it is and how it is laid
        const Box2 box = geometry::bounds(mark.outline);
        for (const Vec2 at : {box.low, box.centre(), box.high}) {
            const Vec3 p = mark.map->point(at);
            digester.add(p.x).add(p.y).add(p.z);
        }
    }
    digester.add(mark.colour.has_value());
    if (mark.colour)
        digester.add(double{mark.colour->red}).add(double{mark.colour->green}).add(double{mark.colour->blue});
}

std::string_view key_of(Route route) {
    switch (route) {
    case Route::direct:
        return "direct";
    case Route::general:
        return "general";
    case Route::mixed:
        return "mixed";
    }
    return "direct";
}

std::optional<RouteChoice> route_from(std::string_view key) {
    if (key == "auto") return RouteChoice::automatic;
    if (key == "direct") return RouteChoice::direct;
    if (key == "general") return RouteChoice::general;
    return std::nullopt;
}

Result<Imprinted> imprint(const part::PartPtr& part, std::span<const Footprint> marks, const Options& options,
                          const Progress& progress) {
    if (marks.empty()) return Imprinted{part, {}};
    return part::guarded("imprint.failed", "Making the marks", [&] { return make(part, marks, options, progress); });
}

} // namespace touchmark::imprint
