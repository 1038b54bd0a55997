// SPDX-License-Identifier: MIT
#include "app/cli/workspace.h"
#include "core/base/atomic_file.h"
#include "core/base/number_text.h"
#include "core/fitting/sheet.h"
#include "core/fitting/strip.h"
#include "core/job/job_file.h"

#include <algorithm>

namespace touchmark::cli {
namespace {

namespace fs = std::filesystem;

/// Where the strip without marks goes, for a job to be opened: "strip.job.json" → "strip-blank.step".
fs::path blank_beside(const fs::path& job) {
    std::string stem = job.filename().string();
    for (const std::string_view ending : {".json", ".job"})
        if (stem.ends_with(ending)) stem.resize(stem.size() - ending.size());
    return job.parent_path() / (stem + "-blank.step");
}

/// The strip without marks and the job beside it, bound to the file as it is read.
Status write_job(const Environment& environment, const fitting::Strip& strip, const fs::path& target) {
    const fs::path blank = blank_beside(target);
    deliver::StepOptions options;
    options.volume_mm3 = strip.blank_mm3;
    const auto written = deliver::write_step(*strip.blank, blank, options, *environment.reader, Progress());
    if (!written) return std::unexpected(written.error());
    const auto part = environment.reader->read(blank, Progress());
    if (!part) return std::unexpected(part.error());
    job::Job job = strip.job;
    job.part = {blank, (*part)->digest()};
    job::Rebound bound = job::rebind(std::move(job), **part);
    if (!bound.lost.empty()) return fail("cli.not_bound", "The written strip has lost a face that a mark sits on.");
    return job::save_job(bound.job, target);
}

} // namespace

std::vector<Option> test_strip_options() {
    return {{"--process", "ID", "The profile that the strip is for; " + std::string(standard_process) + " without it.",
             false},
            {"--out", "STRIP.step", "Where the strip goes, ready to be printed.", true},
            {"--sheet", "STRIP.csv", "Also writes the sheet to fill in, for touchmark-cli fit.", false},
            {"--job", "STRIP.job.json", "Also writes the strip's job, and beside it the strip without marks.", false}};
}

Exit run_test_strip(const Environment& environment, const Arguments& arguments) {
    auto processes = all_processes();
    if (!processes) return complain(environment, processes.error(), Exit::input);
    const auto id = known_process(*processes, arguments.value_or("--process", std::string(standard_process)));
    if (!id) return complain(environment, id.error(), Exit::usage);
    const process::Process process = *std::ranges::find(*processes, *id, &process::Process::id);
    const auto strip = fitting::strip_for(process, Progress());
    if (!strip)
        return complain(environment, strip.error(),
                        strip.error().code == "print.no_figures" ? Exit::input : Exit::not_made);
    pipeline::Surroundings around;
    around.part = strip->blank;
    around.processes = std::make_shared<const std::vector<process::Process>>(*std::move(processes));
    auto fonts = content::FontLibrary::system();
    if (!fonts) return complain(environment, fonts.error(), Exit::input);
    around.fonts = *std::move(fonts);
    pipeline::Evaluator evaluator;
    const auto marked = evaluator.build(strip->job, around, Progress());
    if (!marked) return complain(environment, marked.error(), Exit::not_made);
    deliver::StepOptions options;
    options.volume_mm3 = strip->blank_mm3 + (*marked)->volume_change_mm3;
    options.unmarked = strip->blank;
    std::error_code unknown;
    const fs::path target = fs::absolute(arguments.value("--out"), unknown);
    const auto report = deliver::write_step(*(*marked)->part, target, options, *environment.reader, Progress());
    if (!report) return complain(environment, report.error(), Exit::not_made);
    const Vec3 size = strip->blank->box().size();
    environment.out << "Wrote " << arguments.value("--out") << ": " << number_text(size.x) << " × "
                    << number_text(size.y) << " × " << number_text(size.z) << " mm, " << strip->items.size()
                    << " items, volume " << number_text(report->volume_mm3) << " mm³, read back and checked.\n";
    if (arguments.has("--sheet")) {
        const fs::path sheet = fs::absolute(arguments.value("--sheet"), unknown);
        if (const Status done = write_text_atomically(sheet, fitting::empty_sheet(process, strip->items)); !done)
            return complain(environment, done.error(), Exit::not_made);
        environment.out << "Wrote " << arguments.value("--sheet") << ": fill it in, then touchmark-cli fit.\n";
    }
    if (arguments.has("--job")) {
        const fs::path job = fs::absolute(arguments.value("--job"), unknown);
        if (const Status done = write_job(environment, *strip, job); !done)
            return complain(environment, done.error(), Exit::not_made);
        environment.out << "Wrote " << arguments.value("--job") << " and " << blank_beside(job).filename().string()
                        << " beside it.\n";
    }
    return Exit::done;
}

} // namespace touchmark::cli
