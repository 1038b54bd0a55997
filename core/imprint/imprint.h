// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"
#include "core/part/part.h"
#include "core/surface/face_map.h"

#include <span>

namespace touchmark::imprint {

/// One mark ready for the solid.
struct Footprint {
    std::string name; ///< carried by the faces that the mark makes
    surface::FaceMapPtr map;
    geometry::Outline outline; ///< in the map's mm, already placed
    Mode mode = Mode::engrave;
    /// > 0: into the part (engrave, inlay), off it (raise), the height of the void (hidden); not used by through.
    Mm depth{0.5};
    std::optional<part::Colour> colour = {};
    Mm cover{0.8}; ///< hidden: material between the face and the void, > 0
    /// Of engrave and raise on a face that is not flat. Flat: a plane square to the normal at the anchor, walls
    /// straight along it; the depth is then the least there is anywhere under the outline.
    Floor floor = Floor::offset;
    Vec2 anchor = {}; ///< in the map's mm; of a flat floor only
    /// Of engrave, raise and inlay on a flat face: how far the walls lean from the normal, so that the floor is smaller
    /// than the opening, or the roof than what it stands on. 0 to 60.
    Degrees draft{0};
    /// Of engrave and inlay on a flat face: the radius between wall and floor.
    Mm floor_rounding{0};
};

/// How a mark was made. `direct`: walls and floor built straight into the shell; `general`: boolean of solids, for the
/// regions that cross an edge; `mixed`: both.
enum class Route { direct, general, mixed };
[[nodiscard]] std::string_view key_of(Route route);

struct MarkResult {
    Route route = Route::direct;
    /// Solid after minus solid before, mm³, computed locally: negative for a cut.
    double volume_change_mm3 = 0;
    double filled_mm3 = 0; ///< of the bodies that fill an inlay
    int faces_added = 0;
};

struct Imprinted {
    part::PartPtr part;
    std::vector<MarkResult> marks; ///< in the order given
};

/// Which way to make the marks. `automatic`: directly what lies strictly inside a face, by the boolean what does not.
enum class RouteChoice { automatic, direct, general };
/// "auto", "direct", "general".
[[nodiscard]] std::optional<RouteChoice> route_from(std::string_view key);

struct Options {
    /// Least material that must remain between a cut and any other face, mm; a cut that comes closer is refused.
    Mm least_wall{0.05};
    /// Tessellation reused for the clearance check.
    part::Deflection deflection = {};
    RouteChoice route = RouteChoice::automatic;
};

/// Everything that the mark's geometry depends on but its face's own map.
void add(Digester& digester, const Footprint& footprint);

/// Applies the marks to the part in the order given. The part is untouched; the result is checked (every edge used once
/// in each direction, volume against the locally computed figure, solid and shell counts, sign of each solid). Regions
/// strictly inside the face are put straight into the shell; regions that cross or touch its edge are cut by a boolean
/// that reaches 0.1 mm over the face, and raised from 0.1 mm under it, so that what overhangs has a lip of that size.
/// Hidden marks become hollows of the solid; an inlay is a cut and, in the same product, bodies of its own that fill it
/// flush, named and coloured like the mark; a mark that goes through ends where its wall ends, in free space.
/// With a draft, the outline at each depth is the mark's drawn in by as much as the walls have leaned: see
/// geometry::InsetRegion.
/// Errors: "imprint.pokes_through", "imprint.outside" (nothing of the mark on the face, or not all of a hidden one),
/// "imprint.depth",
/// "imprint.draft" (the walls lean or are rounded more than the mark is wide, or its face is not flat),
/// "imprint.contours" (of the outline, where they meet), "imprint.overlap" (two marks of one call, or
/// one that meets itself round its face), "imprint.route" (the direct one is asked for and does not apply),
/// "imprint.blocked" (material stands in the way: a boss that an engraved region runs into, a roof over a raised one,
/// no free far side), "imprint.loose" (what a counter holds would fall out), "imprint.failed" (with what was tried),
/// "part.mesh", "cancelled".
[[nodiscard]] Result<Imprinted> imprint(const part::PartPtr& part, std::span<const Footprint> marks,
                                        const Options& options, const Progress& progress);

/// The mark as triangles straight from the outline, without touching the solid: what the viewport shows while the hand
/// moves. Milliseconds for a long text. A hidden mark and an inlay are a film on the face, an opening a cut of the
/// depth given. The triangles come in this order: the cap that a person sees (engrave: the footprint on the surface,
/// because the face is not opened; raise: the roof), then the walls, then (engrave only) the floor. `lift` moves the
/// cap off the surface (mm) against depth fighting. `edges` are the contours at the cap.
[[nodiscard]] part::FaceMesh relief(const Footprint& mark, double lift = 0.0);

} // namespace touchmark::imprint
