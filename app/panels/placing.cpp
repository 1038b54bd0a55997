// SPDX-License-Identifier: MIT
#include "app/panels/placing.h"

#include "core/surface/face_map.h"

#include <algorithm>
#include <cmath>

namespace touchmark::panels {
namespace {

constexpr std::size_t faces_looked_at = 12;

struct Candidate {
    const part::Face* face = nullptr;
    double suitability = 0; ///< in tenths: small differences do not outweigh room
};

std::vector<Candidate> candidates(const part::Part& part, const plate::Placement& placement,
                                  const process::Process& process, std::span<const job::ClearFace> kept_clear) {
    std::vector<Candidate> found;
    for (const part::Face& face : part.faces()) {
        if (std::ranges::find(kept_clear, face.index, &job::ClearFace::face) != kept_clear.end()) continue;
        if (face.kind != part::FaceKind::plane || !part.bodies()[static_cast<std::size_t>(face.body)].solid) continue;
        const Zone zone = plate::zone_at(placement, face.centroid, face.frame.z, process);
        const process::Suitability* suits = process.suitability_of(Mode::engrave, zone);
        const double figure = suits ? suits->figure.value : zone == Zone::side_wall ? 1 : zone == Zone::top ? 0.5 : 0;
        found.push_back({&face, std::round(figure * 10)});
    }
    std::ranges::sort(found, [](const Candidate& a, const Candidate& b) {
        return a.suitability != b.suitability ? a.suitability > b.suitability : a.face->area_mm2 > b.face->area_mm2;
    });
    if (found.size() > faces_looked_at) found.resize(faces_looked_at);
    return found;
}

} // namespace

Result<job::Mark> place_by_itself(const part::Part& part, const plate::Meshes& meshes, const plate::Pose& pose,
                                  const process::Process& process, std::span<const job::ClearFace> kept_clear) {
    const plate::Placement placement = plate::placement_of(pose, meshes);
    const content::Text standard{.text = first_words};
    const double high = standard.cap_height.value, wide = high * 4;
    surface::FaceMapPtr best;
    double best_score = 0;
    for (const Candidate& candidate : candidates(part, placement, process, kept_clear)) {
        const Result<surface::FaceMapPtr> map = surface::map_face(part, candidate.face->index);
        if (!map) continue;
        const Vec2 room = (*map)->rectangle();
        const double fits = std::min({1.0, room.x / (wide * 1.5), room.y / (high * 1.5)});
        const double score = fits * (1 + candidate.suitability) + 1e-6 * std::min(room.x * room.y, 1e5);
        if (score <= best_score) continue;
        best_score = score;
        best = *map;
    }
    if (!best)
        return fail("placing.no_face", "This part has no flat face with room for a mark.",
                    "Drag the new mark onto the face you want.");
    job::Mark mark;
    content::Text words = standard;
    const double fits = std::min({1.0, best->rectangle().x / (wide * 1.5), best->rectangle().y / (high * 1.5)});
    words.cap_height = Mm(std::max(0.5, std::floor(high * fits * 10) / 10));
    mark.content = words;
    mark.anchor.face = best->face();
    mark.anchor.fingerprint = part.faces()[static_cast<std::size_t>(best->face())].fingerprint;
    return mark;
}

} // namespace touchmark::panels
