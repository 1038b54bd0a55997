// SPDX-License-Identifier: MIT
#include "core/deliver/step.h"

#include "core/base/atomic_file.h"
#include "core/deliver/appended_step.h"
#include "core/deliver/changes.h"
#include "core/deliver/reference_step.h"

#include <algorithm>
#include <chrono>

namespace touchmark::deliver {
namespace {

Result<StepReport> attempt(const part::Part& part, const std::filesystem::path& target, const StepOptions& options,
                           ParameterCurves curves, part::Reader& reader, const Progress& progress) {
    StepReport report;
    const auto write = [&](const std::filesystem::path& temporary) -> Status {
        const auto start = std::chrono::steady_clock::now();
        const Status written = write_reference(part, target, temporary, options, curves, progress);
        if (written) report.bytes = std::filesystem::file_size(temporary);
        report.seconds_write = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        return written;
    };
    const auto verify = [&](const std::filesystem::path& temporary) {
        return read_back(part, temporary, options, reader, progress, report);
    };
    if (const Status done = write_atomically(target, write, verify); !done) return std::unexpected(done.error());
    return report;
}

/// What OpenCASCADE's writer might still do better.
bool worth_another_way(const Error& error) {
    return error.code == not_appendable_code || error.code == "deliver.verify" || error.code == "deliver.write";
}

/// Then curves in parameters are worth their room: a reader that has to find them is off by micrometres.
bool marked_on_curved(const part::Part& part) {
    using enum part::FaceKind;
    return std::ranges::any_of(part.faces(), [](const part::Face& face) {
        return !face.mark.empty() && (face.kind == sphere || face.kind == torus || face.kind == freeform);
    });
}

} // namespace

std::string_view key_of(StepRoute route) {
    return route == StepRoute::appended ? "appended" : "reference";
}

Result<StepReport> write_step(const part::Part& part, const std::filesystem::path& target, const StepOptions& options,
                              part::Reader& reader, const Progress& progress) {
    std::string reason;
    if (options.unmarked) {
        Result<StepReport> report = write_appended(part, target, options, reader, progress);
        if (report || !worth_another_way(report.error())) return report;
        reason = report.error().message;
    }
    const bool curved = marked_on_curved(part);
    const auto first = curved ? ParameterCurves::written : ParameterCurves::omitted;
    const auto then = curved ? ParameterCurves::omitted : ParameterCurves::written;
    Result<StepReport> report = attempt(part, target, options, first, reader, progress);
    if (!report && report.error().code == "deliver.verify")
        report = attempt(part, target, options, then, reader, progress);
    if (report) report->reason = std::move(reason);
    return report;
}

} // namespace touchmark::deliver
