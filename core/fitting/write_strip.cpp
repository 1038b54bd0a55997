// SPDX-License-Identifier: MIT
#include "core/fitting/write_strip.h"

#include "core/job/job_file.h"
#include "core/pipeline/evaluate.h"

namespace touchmark::fitting {

Result<WrittenStrip> write_strip(const Strip& strip, const process::Process& process,
                                 std::shared_ptr<const content::FontLibrary> fonts, const std::filesystem::path& target,
                                 part::Reader& reader, const Progress& progress) {
    pipeline::Surroundings around;
    around.part = strip.blank;
    around.processes = std::make_shared<const std::vector<process::Process>>(1, process);
    around.fonts = std::move(fonts);
    pipeline::Evaluator evaluator;
    progress.report(0, "Marking the strip");
    const auto marked = evaluator.build(strip.job, around, progress);
    if (!marked) return std::unexpected(marked.error());
    deliver::StepOptions options;
    options.volume_mm3 = strip.blank_mm3 + (*marked)->volume_change_mm3;
    options.unmarked = strip.blank;
    const auto report = deliver::write_step(*(*marked)->part, target, options, reader, progress);
    if (!report) return std::unexpected(report.error());
    return WrittenStrip{strip.blank->box().size(), report->volume_mm3, (*marked)->route};
}

Status write_strip_job(const Strip& strip, const std::filesystem::path& blank, const std::filesystem::path& target,
                       part::Reader& reader, const Progress& progress) {
    deliver::StepOptions options;
    options.volume_mm3 = strip.blank_mm3;
    const auto written = deliver::write_step(*strip.blank, blank, options, reader, progress);
    if (!written) return std::unexpected(written.error());
    const auto part = reader.read(blank, progress);
    if (!part) return std::unexpected(part.error());
    job::Job job = strip.job;
    job.part = {blank, (*part)->digest()};
    job::Rebound bound = job::rebind(std::move(job), **part);
    if (!bound.lost.empty()) return fail("fitting.no_face", "The written strip has lost a face that a mark sits on.");
    return job::save_job(bound.job, target);
}

} // namespace touchmark::fitting
