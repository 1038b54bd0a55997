// SPDX-License-Identifier: MIT
#include "app/viewport/relief_parts.h"

#include "core/imprint/imprint.h"
#include "tests/app/tools/bench.h"

#include <algorithm>

namespace touchmark {
namespace {

class ReliefParts : public test::ToolBench {
protected:
    /// The relief of the mark as it lies.
    part::FaceMesh relief(Mode mode) {
        const pipeline::MarkEvaluation& marked = session->evaluation()->marks.front();
        return imprint::relief(
            {.name = "", .map = marked.map, .outline = marked.placed, .mode = mode, .depth = Mm(0.6), .colour = {}});
    }
    /// How far a corner of a triangle lies out of the face; the front faces -y.
    [[nodiscard]] double height(const part::FaceMesh& mesh, std::uint32_t corner) const {
        return session->part()->faces()[static_cast<std::size_t>(front)].frame.origin.y - mesh.points[corner][1];
    }
};

TEST_F(ReliefParts, TheLidOfACutIsAllThatLiesInTheFace) {
    add_mark("NW-2207 R&8", {-18, 4}); // letters whose sides do not balance each other
    const part::FaceMesh mesh = relief(Mode::engrave);
    const std::size_t lid = viewport::parts_of(mesh, true).lid;
    for (std::size_t i = 0; i < mesh.triangles.size(); ++i) {
        const bool in_face =
            std::ranges::all_of(mesh.triangles[i], [&](std::uint32_t c) { return std::abs(height(mesh, c)) < 1e-4; });
        ASSERT_EQ(in_face, i < lid) << i << " of " << mesh.triangles.size();
    }
}

TEST_F(ReliefParts, WallsRiseAlongTheFacesNormal) {
    add_mark("O%8", {-18, 4});
    for (const Mode mode : {Mode::engrave, Mode::raise}) {
        const part::FaceMesh mesh = relief(mode);
        const viewport::ReliefParts parts = viewport::parts_of(mesh, mode == Mode::engrave);
        ASSERT_EQ(parts.rise.size(), mesh.edges.size());
        for (std::size_t i = 0; i < mesh.edges.size(); ++i) {
            ASSERT_EQ(parts.rise[i].size(), mesh.edges[i].size());
            for (const Vec3& up : parts.rise[i])
                ASSERT_LT(distance(up, {0, -0.6, 0}), 1e-3);
        }
    }
}

} // namespace
} // namespace touchmark
