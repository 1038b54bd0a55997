// SPDX-License-Identifier: MIT
#include "core/rules/table.h"

namespace touchmark::rules {

void judge_part_notes(const part::Part& part, std::vector<Finding>& findings) {
    for (const part::Note& note : part.notes()) {
        Finding finding;
        finding.rule = "part_notes";
        // A faulty solid may fail in the slicer; what was set aside or mended is only worth knowing.
        finding.severity = note.code == "part.invalid_solid" ? Severity::warning : Severity::advice;
        finding.message = note.message;
        finding.why = find_rule("part_notes")->why;
        finding.source = "the part's file";
        finding.where_on_part = {part.box().centre()};
        finding.extent_mm = length(part.box().size());
        const auto body = static_cast<std::size_t>(note.body);
        if (note.body >= 0 && body < part.bodies().size()) {
            Box3 box;
            const part::Body& odd = part.bodies()[body];
            for (int face = odd.first_face; face < odd.first_face + odd.face_count; ++face) {
                const Box3& add = part.faces()[static_cast<std::size_t>(face)].box;
                box.add(add.low), box.add(add.high);
            }
            if (!box.empty()) finding.where_on_part = {box.centre()}, finding.extent_mm = length(box.size());
        }
        findings.push_back(std::move(finding));
    }
}

} // namespace touchmark::rules
