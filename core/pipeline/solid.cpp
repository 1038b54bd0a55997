// SPDX-License-Identifier: MIT
#include "core/pipeline/solid.h"

#include "core/imprint/overlap.h"
#include "core/part/same_surface.h"

#include <algorithm>
#include <cmath>

namespace touchmark::pipeline {
namespace {

using imprint::Footprint;

/// The same map on the face that carries it in a part that already has marks: there the face has another index, and
/// would have another largest rectangle.
class CarriedMap final : public surface::FaceMap {
public:
    /// `carried`: the index there of each face here.
    CarriedMap(surface::FaceMapPtr map, const std::vector<int>& carried) : map_(std::move(map)), faces_(map_->faces()) {
        for (int& face : faces_)
            face = carried[static_cast<std::size_t>(face)];
    }

    [[nodiscard]] int face() const override { return faces_[0]; }
    [[nodiscard]] std::vector<int> faces() const override { return faces_; }
    [[nodiscard]] part::FaceKind kind() const override { return map_->kind(); }
    [[nodiscard]] Vec3 point(Vec2 at) const override { return map_->point(at); }
    [[nodiscard]] Vec3 normal(Vec2 at) const override { return map_->normal(at); }
    [[nodiscard]] Vec3 x_direction(Vec2 at) const override { return map_->x_direction(at); }
    [[nodiscard]] Vec2 locate(Vec3 point) const override { return map_->locate(point); }
    [[nodiscard]] const surface::Unrolling* unrolling() const override { return map_->unrolling(); }
    [[nodiscard]] const surface::Chart* chart() const override { return map_->chart(); }
    [[nodiscard]] Vec2 on_face(Vec2 at) const override { return map_->on_face(at); }
    [[nodiscard]] Vec2 from_face(Vec2 on_face) const override { return map_->from_face(on_face); }
    [[nodiscard]] const geometry::Outline& room() const override { return map_->room(); }
    [[nodiscard]] Vec2 rectangle() const override { return map_->rectangle(); }

private:
    surface::FaceMapPtr map_;
    std::vector<int> faces_;
};

/// For each face of `part` its index in `marked`; nullopt where a mark took a face apart, so that the one is not the
/// other's any more.
std::optional<std::vector<int>> carried_faces(const part::Part& part, const part::Part& marked) {
    std::vector<int> carried;
    for (const part::Face& face : marked.faces())
        if (face.mark.empty()) carried.push_back(face.index);
    if (carried.size() != part.faces().size()) return std::nullopt;
    for (std::size_t i = 0; i < carried.size(); ++i)
        if (!part::same_surface(part.faces()[i], marked.faces()[static_cast<std::size_t>(carried[i])]))
            return std::nullopt;
    return carried;
}

/// The keys of the first 0, 1 … n marks.
std::vector<Digest> recipes(const part::Part& part, std::span<const Footprint> marks, imprint::RouteChoice route) {
    Digester digester;
    digester.add(part.digest()).add(route);
    std::vector<Digest> keys{digester.digest()};
    for (const Footprint& mark : marks) {
        imprint::add(digester, mark);
        keys.push_back(digester.digest());
    }
    return keys;
}

Result<Step> go_on(const part::PartPtr& part, const Step& from, std::span<const Footprint> marks,
                   imprint::RouteChoice route, const Progress& progress) {
    Step start = from;
    const std::size_t done = from.marks.size();
    std::vector<Footprint> rest(marks.begin() + static_cast<std::ptrdiff_t>(done), marks.end());
    if (done > 0) {
        if (const auto carried = carried_faces(*part, *from.part)) {
            for (Footprint& mark : rest)
                mark.map = std::make_shared<const CarriedMap>(mark.map, *carried);
        } else {
            start = {part, {}};
            rest.assign(marks.begin(), marks.end());
        }
    }
    imprint::Options options;
    options.route = route;
    auto made = imprint::imprint(start.part, rest, options, progress);
    if (!made) return std::unexpected(made.error());
    Step after{std::move(made->part), start.marks};
    std::ranges::move(made->marks, std::back_inserter(after.marks));
    return after;
}

} // namespace

Result<std::shared_ptr<const Step>> made_solid(Store& store, const part::PartPtr& part,
                                               std::span<const Footprint> marks, imprint::RouteChoice route,
                                               const Progress& progress) {
    if (const Status clear = imprint::apart(marks); !clear) return std::unexpected(clear.error());
    const std::vector<Digest> keys = recipes(*part, marks, route);
    auto step = std::make_shared<const Step>(Step{part, {}});
    for (std::size_t count = marks.size(); count > 0; --count)
        if (auto remembered = store.steps.peek(keys[count])) {
            step = std::move(remembered);
            break;
        }
    while (step->marks.size() < marks.size()) {
        const std::size_t left = marks.size() - step->marks.size(), next = left > 1 ? marks.size() - 1 : marks.size();
        const auto made = store.steps.get(keys[next], progress, [&]() -> Result<std::shared_ptr<const Step>> {
            auto after = go_on(part, *step, marks.first(next), route, progress);
            if (!after) return std::unexpected(after.error());
            return std::make_shared<const Step>(*std::move(after));
        });
        if (!made) return std::unexpected(made.error());
        step = *made;
    }
    return step;
}

} // namespace touchmark::pipeline
