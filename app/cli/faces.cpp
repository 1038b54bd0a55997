// SPDX-License-Identifier: MIT
#include "app/cli/report.h"
#include "app/cli/workspace.h"
#include "core/base/number_text.h"

#include <algorithm>
#include <array>
#include <iomanip>
#include <nlohmann/json.hpp>

namespace touchmark::cli {
namespace {

using Json = nlohmann::ordered_json;

Vec3 point_of(const std::array<float, 3>& p) {
    return {p[0], p[1], p[2]};
}

/// The zone of the greater part of the face: a curved one has several.
Zone zone_of(const part::FaceMesh& mesh, const plate::Placement& placement, const process::Process& process) {
    std::array<double, zones.size()> area{};
    for (const auto& triangle : mesh.triangles) {
        const Vec3 a = point_of(mesh.points[triangle[0]]), b = point_of(mesh.points[triangle[1]]),
                   c = point_of(mesh.points[triangle[2]]);
        const Vec3 normal = cross(b - a, c - a);
        const double twice = length(normal);
        if (!(twice > 0)) continue;
        const Zone zone = plate::zone_at(placement, (a + b + c) * (1.0 / 3), normal * (1 / twice), process);
        area[static_cast<std::size_t>(zone)] += twice;
    }
    return zones[static_cast<std::size_t>(std::ranges::max_element(area) - area.begin())];
}

struct Row {
    const part::Face* face;
    Zone zone;
    std::optional<Vec2> rectangle;
};

Json json_of(const Vec3& v) {
    return {v.x, v.y, v.z};
}

Json json_of(const Row& row) {
    const part::Face& face = *row.face;
    Json object{{"index", face.index},
                {"kind", key_of(face.kind)},
                {"area_mm2", face.area_mm2},
                {"centroid", json_of(face.centroid)}};
    const bool has_normal = face.kind == part::FaceKind::plane || face.kind == part::FaceKind::freeform;
    object[has_normal ? "normal" : "axis"] = json_of(face.frame.z);
    object["zone"] = key_of(row.zone);
    if (row.rectangle) object["rectangle_mm"] = {row.rectangle->x, row.rectangle->y};
    if (!face.name.empty()) object["name"] = face.name;
    return object;
}

void print(std::ostream& out, const Row& row) {
    const part::Face& face = *row.face;
    out << std::setw(5) << face.index << "  " << std::left << std::setw(9) << key_of(face.kind) << std::setw(10)
        << title_of(row.zone) << std::right << std::setw(9) << number_text(face.area_mm2) << " mm²";
    if (row.rectangle)
        out << "  room " << number_text(row.rectangle->x) << " × " << number_text(row.rectangle->y) << " mm";
    if (!face.name.empty()) out << "  " << face.name;
    out << '\n';
}

Outcome<std::vector<Row>> rows_of(const part::Part& part, const plate::Pose& pose, const process::Process& process) {
    const auto meshes = part::tessellate(part, part::Deflection{}, Progress());
    if (!meshes) return failed(meshes.error(), Exit::input);
    const plate::Placement placement = plate::placement_of(pose, *meshes);
    std::vector<Row> rows;
    for (const part::Face& face : part.faces()) {
        Row row{&face, zone_of(*(*meshes)[static_cast<std::size_t>(face.index)], placement, process), std::nullopt};
        if (const auto map = surface::map_face(part, face.index)) row.rectangle = (*map)->rectangle();
        rows.push_back(row);
    }
    return rows;
}

} // namespace

std::vector<Option> faces_options() {
    return {{"--down", "X,Y,Z", "Direction of the part's file that points to the plate; 0,0,-1 by default.", false},
            {"--process", "NAME", "Process profile, whose angles part the zones.", false},
            {"--json", "", "Prints one JSON object instead of lines.", false}};
}

Exit run_faces(const Environment& environment, const Arguments& arguments) {
    plate::Pose pose;
    if (arguments.has("--down")) {
        const auto down = parse_direction("--down", arguments.value("--down"));
        if (!down) return complain(environment, down.error(), Exit::usage);
        pose.down = *down;
    }
    const auto processes = all_processes();
    if (!processes) return complain(environment, processes.error(), Exit::input);
    const auto id = known_process(*processes, arguments.value_or("--process", std::string(standard_process)));
    if (!id) return complain(environment, id.error(), Exit::usage);
    const auto process = std::ranges::find(*processes, *id, &process::Process::id);
    const auto part = environment.reader->read(arguments.operand(0), Progress());
    if (!part) return complain(environment, part.error(), Exit::input);
    const auto rows = rows_of(**part, pose, *process);
    if (!rows) return complain(environment, rows.error().error, rows.error().exit);
    const auto findings = rules::judge_part(**part);
    if (arguments.has("--json")) {
        Json faces = Json::array();
        for (const Row& row : *rows)
            faces.push_back(json_of(row));
        print_json(environment.out, {{"faces", faces}, {"findings", findings_json(findings)}});
    } else {
        for (const Row& row : *rows)
            print(environment.out, row);
        if (!findings.empty()) print_findings(environment.out, findings);
    }
    return exit_for(findings);
}

} // namespace touchmark::cli
