// SPDX-License-Identifier: MIT
#include "tests/reference/mesh_boolean.h"

#include "tests/support/scratch_folder.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <map>
#include <stdexcept>

namespace touchmark::test {
namespace {

using Json = nlohmann::json;

Json triple(const Vec3& v) {
    return {v.x, v.y, v.z};
}

/// The body's triangles with the points of neighbouring faces made one: they agree to the last bit. Coordinates are
/// from the mark's origin, for the sake of single precision.
Json mesh_of(const MeshCase& one) {
    part::Deflection deflection;
    deflection.linear = Mm(one.deflection);
    deflection.angular = Degrees(5);
    const auto meshes = part::tessellate(*one.part, deflection, Progress()).value();
    const int index = one.part->faces()[static_cast<std::size_t>(one.mark.map->face())].body;
    const part::Body& body = one.part->bodies()[static_cast<std::size_t>(index)];
    const Vec3 origin = one.mark.map->point({0, 0});
    std::map<std::array<float, 3>, std::uint32_t> known;
    std::vector<double> points;
    std::vector<std::uint32_t> triangles;
    for (int face = body.first_face; face < body.first_face + body.face_count; ++face) {
        const part::FaceMesh& mesh = *meshes[static_cast<std::size_t>(face)];
        std::vector<std::uint32_t> numbers;
        for (const auto& p : mesh.points) {
            const auto [at, fresh] = known.try_emplace(p, static_cast<std::uint32_t>(known.size()));
            if (fresh)
                for (const double c : {double{p[0]} - origin.x, double{p[1]} - origin.y, double{p[2]} - origin.z})
                    points.push_back(c);
            numbers.push_back(at->second);
        }
        for (const auto& t : mesh.triangles) {
            const std::array<std::uint32_t, 3> corners{numbers[t[0]], numbers[t[1]], numbers[t[2]]};
            if (corners[0] == corners[1] || corners[1] == corners[2] || corners[2] == corners[0]) continue;
            triangles.insert(triangles.end(), corners.begin(), corners.end());
        }
    }
    return {{"points", std::move(points)}, {"triangles", std::move(triangles)}};
}

/// Where the mark sits, in the words of the face's textbook description and of the mark's own place on it.
Json face_of(const MeshCase& one) {
    const surface::FaceMap& map = *one.mark.map;
    const part::Face& face = one.part->faces()[static_cast<std::size_t>(map.face())];
    return {{"kind", part::key_of(face.kind)},      {"origin", triple({})},
            {"x", triple(map.x_direction({0, 0}))}, {"normal", triple(map.normal({0, 0}))},
            {"axis", triple(face.frame.z)},         {"centre", triple(face.frame.origin - map.point({0, 0}))}};
}

bool is_flat(const MeshCase& one) {
    return one.mark.map->kind() == part::FaceKind::plane;
}

Json mark_of(const MeshCase& one) {
    constexpr double over = 0.1; // beyond the face, so that tool and part meet in no face
    Json polygons = Json::array();
    for (const geometry::Polygon& polygon : geometry::flattened(one.mark.outline, one.flattening)) {
        Json list = Json::array();
        for (const Vec2 p : polygon)
            list.push_back({p.x, p.y});
        polygons.push_back(std::move(list));
    }
    const double depth = one.mark.depth.value, cover = one.mark.cover.value;
    const Mode mode = one.mark.mode;
    const double low = mode == Mode::raise ? -over : mode == Mode::hidden ? -cover - depth : -depth;
    const double high = mode == Mode::raise ? depth : mode == Mode::hidden ? -cover : over;
    return {{"face", face_of(one)}, {"polygons", std::move(polygons)}, {"low", low},
            {"high", high},         {"add", mode == Mode::raise},      {"refine", is_flat(one) ? 0 : one.refinement}};
}

std::vector<std::string> lines_of(const std::string& command) {
    std::FILE* pipe = ::popen(command.c_str(), "r");
    if (!pipe) throw std::runtime_error("cannot run node");
    std::string text;
    std::array<char, 4096> buffer{};
    while (const std::size_t read = std::fread(buffer.data(), 1, buffer.size(), pipe))
        text.append(buffer.data(), read);
    if (::pclose(pipe) != 0) throw std::runtime_error("node failed: " + command);
    std::vector<std::string> lines;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find('\n', at), text.size());
        lines.push_back(text.substr(at, end - at));
        at = end + 1;
    }
    return lines;
}

} // namespace

std::vector<MeshResult> mesh_booleans(const std::vector<MeshCase>& cases, int repetitions) {
    const char* folder = std::getenv("TOUCHMARK_MANIFOLD");
    if (!folder) throw std::runtime_error("TOUCHMARK_MANIFOLD is not set: run the tests through ./tests/run");
    const ScratchFolder scratch;
    Json all = Json::array();
    for (const MeshCase& one : cases)
        all.push_back({{"name", one.name}, {"mesh", mesh_of(one)}, {"mark", mark_of(one)}});
    std::ofstream(scratch / "cases.json") << all;
    const std::vector<std::string> lines =
        lines_of("node '" TOUCHMARK_SOURCE_DIR "/tests/support/mesh_boolean.mjs' '" + std::string(folder) + "' '" +
                 (scratch / "cases.json").string() + "' " + std::to_string(repetitions));
    if (lines.size() != cases.size())
        throw std::runtime_error("node answered " + std::to_string(lines.size()) + " cases");
    std::vector<MeshResult> results;
    for (const std::string& line : lines) {
        const Json answer = Json::parse(line);
        results.push_back({answer.at("status"), answer.value("change", 0.0), answer.value("milliseconds", 0.0)});
    }
    return results;
}

double mesh_tolerance(const MeshCase& one) {
    const double area = geometry::area(one.mark.outline);
    double tolerance = geometry::perimeter(one.mark.outline) * one.mark.depth.value * one.flattening;
    const Vec3 size = one.part->box().size();
    const double largest = std::max({size.x, size.y, size.z}), last_bit = 6e-8; // of a float
    tolerance += area * 4 * last_bit * largest;
    if (is_flat(one)) return tolerance;
    // The sagitta of a chord; the least radius under the mark.
    const part::Face& face = one.part->faces()[static_cast<std::size_t>(one.mark.map->face())];
    double radius = 1e300;
    for (const geometry::Polygon& polygon : geometry::flattened(one.mark.outline, 0.05))
        for (const Vec2 p : polygon) {
            const Vec3 from = one.mark.map->point(p) - face.frame.origin;
            radius = std::min(radius, length(from - face.frame.z * dot(from, face.frame.z)));
        }
    const double ends = one.mark.mode == Mode::hidden ? 2 : 1;
    tolerance += area * ends * one.refinement * one.refinement / (8 * (radius - one.mark.depth.value));
    if (one.mark.mode != Mode::hidden) tolerance += area * one.deflection;
    return tolerance;
}

} // namespace touchmark::test
