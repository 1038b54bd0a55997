// SPDX-License-Identifier: MIT
#include "core/part/shape.h"
#include "core/surface/boundary.h"
#include "core/surface/map_table.h"
#include "core/surface/one_surface.h"
#include "core/surface/reading_direction.h"
#include "core/surface/rectangle.h"

namespace touchmark::surface {
namespace {

class PlaneMap final : public FaceMap {
public:
    PlaneMap(std::vector<int> faces, const Frame& frame, geometry::Outline room, Vec2 rectangle)
        : faces_(std::move(faces)), frame_(frame), room_(std::move(room)), rectangle_(rectangle) {}

    [[nodiscard]] int face() const override { return faces_[0]; }
    [[nodiscard]] std::vector<int> faces() const override { return faces_; }
    [[nodiscard]] part::FaceKind kind() const override { return part::FaceKind::plane; }
    [[nodiscard]] Vec3 point(Vec2 at) const override { return frame_.to_space(at); }
    [[nodiscard]] Vec3 normal(Vec2) const override { return frame_.z; }
    [[nodiscard]] Vec3 x_direction(Vec2) const override { return frame_.x; }
    [[nodiscard]] Vec2 locate(Vec3 point) const override { return frame_.to_plane(point); }
    [[nodiscard]] const Unrolling* unrolling() const override { return nullptr; }
    [[nodiscard]] const geometry::Outline& room() const override { return room_; }
    [[nodiscard]] Vec2 rectangle() const override { return rectangle_; }

private:
    std::vector<int> faces_;
    Frame frame_;
    geometry::Outline room_;
    Vec2 rectangle_;
};

} // namespace

Result<FaceMapPtr> map_plane(const part::Part& part, const part::Face& face) {
    const TopoDS_Face& shape = part::face_shape(part, face.index);
    const gp_Trsf placing = part::occurrence(part, face.body).location.Transformation();
    Frame frame = face.frame;
    const Result<Boundary> seen = boundary_of(shape, placing, frame);
    if (!seen) return std::unexpected(seen.error());
    const Vec3 x = reading_direction(frame, seen->straight);
    const geometry::Affine turn{dot(x, frame.x), dot(x, frame.y), -dot(x, frame.y), dot(x, frame.x), {}};
    frame.y = cross(frame.z, x);
    frame.x = x;
    std::vector<geometry::Contour> contours;
    for (const geometry::Contour& contour : seen->contours)
        contours.push_back(geometry::transformed(contour, turn));
    Result<geometry::Outline> room = room_within(std::move(contours), "Face " + std::to_string(face.index));
    if (!room) return std::unexpected(room.error());
    const std::vector<geometry::Polygon> polygons = geometry::flattened(*room, 5e-4);
    const Box2 rectangle = largest_rectangle(polygons);
    const Vec2 centre = rectangle.centre();
    std::vector<int> faces = faces_of_one_surface(part, face);
    if (faces.size() > 1) {
        // With the faces that go on in it, where their common boundary can be followed.
        const auto all = boundary_of(shapes_of(part, faces), placing, frame);
        auto common = all ? room_within(all->contours) : std::unexpected(all.error());
        if (common)
            room = std::move(common);
        else
            faces = {face.index};
    }
    frame.origin = frame.to_space(centre);
    geometry::Outline centred = geometry::transformed(*room, geometry::Affine::translation(centre * -1));
    return std::make_shared<const PlaneMap>(std::move(faces), frame, std::move(centred),
                                            Vec2{rectangle.width(), rectangle.height()});
}

} // namespace touchmark::surface
