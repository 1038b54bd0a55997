// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/vector.h"

#include <array>
#include <optional>

namespace touchmark::viewport {

/// A camera on a turntable: it looks at a point of the plate's space and never tilts sideways, so the plate's up stays
/// up on the screen. A value; angles in radians.
struct Camera {
    Vec3 target;
    double azimuth = 0;   ///< of the eye about +z, 0: from -y (the front), growing towards +x (the right)
    double elevation = 0; ///< of the eye above the plate, within ±π/2
    double distance = 100;

    /// Whole opening of the view upwards; small, so that perspective stays mild.
    static constexpr double opening = 0.42;

    friend bool operator==(const Camera&, const Camera&) = default;
    [[nodiscard]] Vec3 towards_eye() const;
    [[nodiscard]] Vec3 eye() const { return target + towards_eye() * distance; }
    [[nodiscard]] Vec3 right() const;
    [[nodiscard]] Vec3 up() const;

    /// The eye goes round the target by these angles (radians); elevation stops at the poles.
    void turn(double about_up, double about_right);
    /// The eye and the target move so that what is at the target's distance follows the pointer by (right, up) mm.
    void pan(double right_mm, double up_mm);
    /// `factor` < 1 goes nearer; what lies under `towards` stays where it is on the screen.
    void zoom(double factor, Vec3 towards);
};

/// A view of so many pixels through a camera. Screen coordinates: pixels from the top left, y down.
struct View {
    Camera camera;
    double width = 1, height = 1;

    struct Ray {
        Vec3 from, direction; ///< direction: unit
    };
    struct Seen {
        double x = 0, y = 0;
        double depth = 0; ///< along the view axis, mm; negative behind the eye
    };
    [[nodiscard]] Ray ray(double x, double y) const;
    [[nodiscard]] Seen see(Vec3 point) const;
    /// Pixels that a millimetre across the view takes at this point.
    [[nodiscard]] double pixels_per_mm(Vec3 at) const;
};

/// The camera from where the sphere around the box fills the view.
[[nodiscard]] Camera fitted(const Camera& direction, const Box3& box, double aspect);
/// Eye in that direction of the target (plate coordinates); straight up or down, `up` decides what is up.
[[nodiscard]] Camera facing(const Camera& now, Vec3 towards_eye, std::optional<Vec3> up = std::nullopt);
/// 0…1 on the way, the shorter way round.
[[nodiscard]] Camera between(const Camera& from, const Camera& to, double share);

} // namespace touchmark::viewport
