// SPDX-License-Identifier: MIT
#include "app/viewport/camera.h"

#include <algorithm>
#include <numbers>

namespace touchmark::viewport {

using std::numbers::pi;

Vec3 Camera::towards_eye() const {
    return {std::cos(elevation) * std::sin(azimuth), -std::cos(elevation) * std::cos(azimuth), std::sin(elevation)};
}

Vec3 Camera::right() const {
    return {std::cos(azimuth), std::sin(azimuth), 0};
}

Vec3 Camera::up() const {
    return {-std::sin(elevation) * std::sin(azimuth), std::sin(elevation) * std::cos(azimuth), std::cos(elevation)};
}

void Camera::turn(double about_up, double about_right) {
    azimuth = std::remainder(azimuth + about_up, 2 * pi);
    elevation = std::clamp(elevation + about_right, -pi / 2, pi / 2);
}

void Camera::pan(double right_mm, double up_mm) {
    target = target - right() * right_mm - up() * up_mm;
}

void Camera::zoom(double factor, Vec3 towards) {
    // The eye goes along the line to `towards`; the point's depth along the view axis shrinks by the factor.
    target = towards + (target - towards) * factor;
    distance *= factor;
}

View::Ray View::ray(double x, double y) const {
    const double pixel = 2 * std::tan(Camera::opening / 2) / height;
    const Vec3 direction =
        camera.right() * ((x - width / 2) * pixel) + camera.up() * ((height / 2 - y) * pixel) - camera.towards_eye();
    return {camera.eye(), normalised(direction)};
}

View::Seen View::see(Vec3 point) const {
    const Vec3 from_eye = point - camera.eye();
    const double depth = -dot(from_eye, camera.towards_eye());
    const double scale = height / (2 * std::tan(Camera::opening / 2)) / std::max(std::abs(depth), 1e-9);
    return {width / 2 + dot(from_eye, camera.right()) * scale, height / 2 - dot(from_eye, camera.up()) * scale, depth};
}

double View::pixels_per_mm(Vec3 at) const {
    const double depth = std::max(-dot(at - camera.eye(), camera.towards_eye()), 1e-6);
    return height / (2 * std::tan(Camera::opening / 2)) / depth;
}

Camera fitted(const Camera& direction, const Box3& box, double aspect) {
    Camera camera = direction;
    if (box.empty()) return camera;
    camera.target = box.centre();
    // The silhouette of the box, not its sphere: long flat parts would come out small.
    const double upwards = std::tan(Camera::opening / 2), sideways = upwards * aspect;
    double distance = 1;
    for (int corner = 0; corner < 8; ++corner) {
        const Vec3 at{(corner & 1) != 0 ? box.low.x : box.high.x, (corner & 2) != 0 ? box.low.y : box.high.y,
                      (corner & 4) != 0 ? box.low.z : box.high.z};
        const Vec3 out = at - camera.target;
        const double nearer = dot(out, camera.towards_eye());
        distance = std::max({distance, nearer + std::abs(dot(out, camera.right())) / sideways,
                             nearer + std::abs(dot(out, camera.up())) / upwards});
    }
    camera.distance = distance * 1.22;
    return camera;
}

Camera facing(const Camera& now, Vec3 towards_eye, std::optional<Vec3> up) {
    Camera camera = now;
    if (length(towards_eye) < 1e-12) return camera;
    const Vec3 way = normalised(towards_eye);
    camera.elevation = std::asin(std::clamp(way.z, -1.0, 1.0));
    if (std::hypot(way.x, way.y) > 1e-6) {
        camera.azimuth = std::atan2(way.x, -way.y);
    } else if (up) { // seen from above, up on the screen is (-sin a, cos a); from below its opposite
        const double sign = way.z > 0 ? 1 : -1;
        camera.azimuth = std::atan2(-up->x * sign, up->y * sign);
    } else { // the quarter turn nearest to where the eye is
        camera.azimuth = std::round(now.azimuth / (pi / 2)) * (pi / 2);
    }
    return camera;
}

Camera between(const Camera& from, const Camera& to, double share) {
    const double s = std::clamp(share, 0.0, 1.0), eased = s * s * (3 - 2 * s);
    Camera camera;
    camera.target = from.target + (to.target - from.target) * eased;
    camera.azimuth = from.azimuth + std::remainder(to.azimuth - from.azimuth, 2 * pi) * eased;
    camera.elevation = from.elevation + (to.elevation - from.elevation) * eased;
    camera.distance = from.distance * std::pow(to.distance / from.distance, eased);
    return camera;
}

} // namespace touchmark::viewport
