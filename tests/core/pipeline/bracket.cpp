// SPDX-License-Identifier: MIT
#include "tests/core/pipeline/bracket.h"

#include "tests/support/reader.h"

#include <algorithm>
#include <stdexcept>

namespace touchmark::test {

const pipeline::Surroundings& bracket() {
    static const pipeline::Surroundings around = [] {
        const std::filesystem::path resources = TOUCHMARK_RESOURCES;
        return pipeline::Surroundings{read_part(resources / "demo" / "sensor-bracket.step"),
                                      content::FontLibrary::system().value(),
                                      std::make_shared<const std::vector<process::Process>>(
                                          process::load_processes(resources / "processes").value())};
    }();
    return around;
}

int face_towards(const part::Part& part, Vec3 normal) {
    int best = -1;
    double area = 0;
    for (const part::Face& face : part.faces())
        if (face.kind == part::FaceKind::plane && dot(face.frame.z, normal) > 0.999 && face.area_mm2 > area)
            best = face.index, area = face.area_mm2;
    if (best < 0) throw std::runtime_error("the part has no such face");
    return best;
}

job::Job with_mark(job::Job job, const TextMark& wanted) {
    job::Mark mark;
    content::Text text;
    text.text = wanted.text;
    text.cap_height = Mm(wanted.cap_height);
    text.weight = wanted.weight;
    mark.content = text;
    mark.mode = wanted.mode;
    mark.depth = Mm(wanted.depth);
    mark.anchor.face = face_towards(*bracket().part, wanted.normal);
    mark.anchor.fingerprint = bracket().part->faces()[static_cast<std::size_t>(mark.anchor.face)].fingerprint;
    mark.anchor.at = wanted.at;
    mark.anchor.turn = Degrees(wanted.turn);
    return job::add_mark(std::move(job), std::move(mark)).value();
}

std::shared_ptr<const pipeline::Evaluation> evaluated(pipeline::Evaluator& evaluator, const job::Job& job) {
    return evaluator.evaluate(job, bracket(), Progress()).value();
}

std::optional<rules::Severity> worst(const pipeline::Evaluation& evaluation, std::string_view rule,
                                     std::string_view mark) {
    std::optional<rules::Severity> found;
    for (const rules::Finding& finding : evaluation.findings)
        if (finding.rule == rule && finding.mark == mark)
            found = std::min(found.value_or(finding.severity), finding.severity);
    return found;
}

long count_like(const pipeline::Evaluation& evaluation, const rules::Finding& finding) {
    return std::ranges::count_if(evaluation.findings, [&](const rules::Finding& one) {
        return one.rule == finding.rule && one.mark == finding.mark && one.severity <= finding.severity;
    });
}

bool mended(const pipeline::Evaluation& before, const rules::Finding& finding, const pipeline::Evaluation& after) {
    if (count_like(after, finding) < count_like(before, finding)) return true;
    return finding.rule == "zone" && std::ranges::none_of(after.findings, [&](const rules::Finding& now) {
               return now.rule == finding.rule && now.mark == finding.mark &&
                      (now.severity < finding.severity || now.figure <= finding.figure);
           });
}

} // namespace touchmark::test
