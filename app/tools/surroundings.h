// SPDX-License-Identifier: MIT
#pragma once

#include "app/session/session.h"
#include "app/viewport/viewport.h"

#include <QPolygonF>
#include <map>

namespace touchmark::tools {

[[nodiscard]] inline QString text(std::string_view utf8) {
    return QString::fromUtf8(utf8.data(), static_cast<qsizetype>(utf8.size()));
}

/// A mark of the job as it lies on its face now, a running gesture included.
struct PlacedMark {
    const job::Mark* mark = nullptr;
    surface::FaceMapPtr map;
    std::shared_ptr<const content::Drawn> drawn; ///< of the newest evaluation
    Box2 extent;                                 ///< about the mark's own origin, at the size the job asks for
    geometry::Affine placement;                  ///< mark → face mm
    std::optional<double> wall_mm;               ///< how deep a mark goes that is cut through, when known

    [[nodiscard]] Vec3 point(Vec2 on_mark) const { return map->point(placement(on_mark)); }
    [[nodiscard]] Vec3 centre() const { return map->point(mark->anchor.at); }
    [[nodiscard]] Vec3 normal() const { return map->normal(mark->anchor.at); }
    /// Face mm → about the mark's origin.
    [[nodiscard]] Vec2 to_mark(Vec2 on_face) const;
};

/// What the tools act on, with the maps of the faces touched so far.
class Surroundings {
public:
    Surroundings(session::Session& of, viewport::Viewport& shown_in) : session(of), viewport(shown_in) {}

    session::Session& session;
    viewport::Viewport& viewport;

    /// Remembered for the open part.
    [[nodiscard]] Result<surface::FaceMapPtr> map(int face);
    [[nodiscard]] std::optional<PlacedMark> placed(std::string_view mark);
    [[nodiscard]] std::optional<PlacedMark> selected();
    /// The mark whose box (grown by a few pixels) lies under a point of the widget; the selected one before others.
    [[nodiscard]] std::optional<PlacedMark> mark_under(QPointF at);
    /// The turn that makes a mark there stand upright as the part stands; on a face that looks up or down, the quarter
    /// turn that reads best from where the eye is.
    [[nodiscard]] Degrees upright(const surface::FaceMap& map, Vec2 at) const;
    /// The anchor on the face under a hit.
    [[nodiscard]] job::Anchor anchor(const surface::FaceMap& map, Vec2 at, Degrees turn) const;
    /// Face mm under a point of the widget, also beyond the face's edge; nullopt where the line of sight misses its
    /// plane.
    [[nodiscard]] std::optional<Vec2> on_face(const surface::FaceMap& map, Vec2 near, QPointF at) const;

    /// While a tool picks faces the part stays as it is drawn, and the pointer is a hand.
    void pick_faces(bool picking);
    /// Lights up a face of the part; none for an index that is none.
    void show_meant(int face);

private:
    [[nodiscard]] surface::FaceMapPtr about_anchor(const job::Mark& mark, const surface::FaceMapPtr& whole);

    part::PartPtr mapped_part_;
    std::map<int, Result<surface::FaceMapPtr>> maps_;
    /// On a face that cannot be rolled out, where a mark last was and the map about that place.
    struct Laid {
        surface::FaceMapPtr whole, about;
        Vec2 at;
        Laying laying = Laying::wrap;
    };
    std::map<std::string, Laid, std::less<>> laid_;
};

/// Within (-180, 180].
[[nodiscard]] Degrees normalised(Degrees angle);
/// Why a mark cannot go on this face, for a person.
[[nodiscard]] QString reason(const Error& error);

} // namespace touchmark::tools
