// SPDX-License-Identifier: MIT
#include "tests/support/marked.h"

#include "core/content/content.h"

#include <algorithm>

namespace touchmark::test {

geometry::Outline letters(std::string_view text, double cap_height) {
    static const auto fonts = content::FontLibrary::system().value();
    content::Text content{.text = std::string(text)};
    content.family = "DejaVu Sans";
    content.weight = 700;
    content.cap_height = Mm(cap_height);
    return content::draw(content, *fonts).value().outline;
}

std::optional<imprint::Footprint> mark_for(const part::Part& part, int face, std::string_view text, Mode mode) {
    const auto map = surface::map_face(part, face);
    if (!map) return std::nullopt;
    const Vec2 room = (*map)->rectangle();
    const geometry::Outline drawn = letters(text, 1);
    const Box2 box = geometry::bounds(drawn);
    const double height = std::min({0.7 * room.y / box.height(), 0.7 * room.x / box.width(), 8.0});
    if (height < 0.4) return std::nullopt;
    imprint::Footprint mark;
    mark.name = "Mark 1";
    mark.map = *map;
    mark.mode = mode;
    mark.depth = Mm(std::min(0.3, height / 8));
    mark.cover = mark.depth;
    mark.outline = geometry::transformed(drawn, geometry::Affine::scale(height) *
                                                    geometry::Affine::translation(box.centre() * -1));
    if (surface::margin(**map, mark.outline).distance < 0.05) return std::nullopt;
    return mark;
}

std::vector<int> roomy_faces(const part::Part& part, part::FaceKind kind, std::size_t most) {
    std::vector<std::pair<double, int>> sized;
    for (const part::Face& face : part.faces()) {
        if (face.kind != kind || !part.bodies()[static_cast<std::size_t>(face.body)].solid) continue;
        if (const auto map = surface::map_face(part, face.index))
            sized.emplace_back((*map)->rectangle().x * (*map)->rectangle().y, face.index);
    }
    std::ranges::sort(sized, std::greater());
    std::vector<int> faces;
    for (std::size_t i = 0; i < std::min(most, sized.size()); ++i)
        faces.push_back(sized[i].second);
    return faces;
}

} // namespace touchmark::test
