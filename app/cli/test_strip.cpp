// SPDX-License-Identifier: MIT
#include "app/cli/workspace.h"
#include "core/base/atomic_file.h"
#include "core/base/number_text.h"
#include "core/fitting/sheet.h"
#include "core/fitting/write_strip.h"

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
    auto fonts = content::FontLibrary::system();
    if (!fonts) return complain(environment, fonts.error(), Exit::input);
    std::error_code unknown;
    const fs::path target = fs::absolute(arguments.value("--out"), unknown);
    const auto written =
        fitting::write_strip(*strip, process, *std::move(fonts), target, *environment.reader, Progress());
    if (!written) return complain(environment, written.error(), Exit::not_made);
    const Vec3 size = written->size_mm;
    environment.out << "Wrote " << arguments.value("--out") << ": " << number_text(size.x) << " × "
                    << number_text(size.y) << " × " << number_text(size.z) << " mm, " << strip->items.size()
                    << " items, volume " << number_text(written->volume_mm3) << " mm³, read back and checked.\n";
    if (arguments.has("--sheet")) {
        const fs::path sheet = fs::absolute(arguments.value("--sheet"), unknown);
        if (const Status done = write_text_atomically(sheet, fitting::empty_sheet(process, strip->items)); !done)
            return complain(environment, done.error(), Exit::not_made);
        environment.out << "Wrote " << arguments.value("--sheet") << ": fill it in, then touchmark-cli fit.\n";
    }
    if (arguments.has("--job")) {
        const fs::path job = fs::absolute(arguments.value("--job"), unknown);
        if (const Status done =
                fitting::write_strip_job(*strip, blank_beside(job), job, *environment.reader, Progress());
            !done)
            return complain(environment, done.error(), Exit::not_made);
        environment.out << "Wrote " << arguments.value("--job") << " and " << blank_beside(job).filename().string()
                        << " beside it.\n";
    }
    return Exit::done;
}

} // namespace touchmark::cli
