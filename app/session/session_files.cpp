// SPDX-License-Identifier: MIT
#include "app/session/counted.h"
#include "app/session/session_impl.h"

#include "core/deliver/step.h"
#include "core/job/job_file.h"

#include <cctype>
#include <fstream>

namespace touchmark::session {
namespace {

/// A job is JSON and begins with a brace; everything else is left to the part reader, which explains what it is not.
bool looks_like_job(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    std::string start(64, '\0');
    stream.read(start.data(), static_cast<std::streamsize>(start.size()));
    start.resize(static_cast<std::size_t>(std::max<std::streamsize>(stream.gcount(), 0)));
    if (start.starts_with("\xEF\xBB\xBF")) start.erase(0, 3);
    const auto first = std::ranges::find_if(start, [](unsigned char c) { return std::isspace(c) == 0; });
    return first != start.end() && *first == '{';
}

Result<Opened> read(const std::filesystem::path& file, part::Reader& reader, const Progress& progress) {
    Opened opened;
    if (looks_like_job(file)) {
        Result<job::Job> job = job::load_job(file);
        if (!job) return std::unexpected(job.error());
        opened.job = *std::move(job);
        opened.job_file = file;
    } else {
        opened.job.part.file = file;
    }
    Result<part::PartPtr> part = reader.read(opened.job.part.file, progress);
    if (!part) return std::unexpected(part.error());
    opened.part = *std::move(part);
    if (!opened.job_file.empty() && opened.job.part.digest != opened.part->digest()) {
        job::Rebound rebound = job::rebind(opened.job, *opened.part);
        opened.job = std::move(rebound.job);
        opened.lost = std::move(rebound.lost);
        opened.lost_faces = rebound.lost_faces.size();
        opened.part_changed = true;
    }
    opened.job.part.digest = opened.part->digest();
    auto meshes = part::tessellate(*opened.part, {}, progress);
    if (!meshes) return std::unexpected(meshes.error());
    opened.meshes = *std::move(meshes);
    return opened;
}

QString size_text(std::uintmax_t bytes) {
    if (bytes < 1'000'000) return Session::tr("%1 kB").arg(std::max<std::uintmax_t>(bytes / 1000, 1));
    return Session::tr("%1 MB").arg(static_cast<double>(bytes) / 1e6, 0, 'f', 1);
}

QString summary(const deliver::StepReport& report) {
    return Session::tr("Read back and checked: %1, %2, %3.")
        .arg(counted(report.solids, Session::tr("solid"), Session::tr("solids")),
             counted(report.faces, Session::tr("face"), Session::tr("faces")), size_text(report.bytes));
}

} // namespace

void Session::open(const std::filesystem::path& file) {
    std::error_code ignored;
    const std::filesystem::path whole = std::filesystem::absolute(file, ignored);
    impl_->files.run(tr("Reading %1").arg(name_of(whole.filename())),
                     [impl = impl_.get(), whole, reader = impl_->parts.reader](const Progress& progress) {
                         return [impl, result = read(whole, *reader, progress)] {
                             if (result)
                                 impl->take_opened(*result);
                             else if (result.error().code != cancelled_code)
                                 emit impl->session.failed(result.error());
                         };
                     });
    impl_->watch();
}

void Session::Impl::take_opened(Opened opened) {
    forget_results();
    job = std::move(opened.job);
    part = std::move(opened.part);
    meshes = std::move(opened.meshes);
    job_file = std::move(opened.job_file);
    const bool known =
        std::ranges::find(*parts.processes, job.process, &process::Process::id) != parts.processes->end();
    const std::string unknown = known ? std::string() : std::exchange(job.process, std::string());
    if (!known) job.process = session.process().id; // the one that new jobs begin with
    history.clear();
    if (opened.part_changed || !known) history.resetClean();
    if (!job.marks.empty()) selected_mark = text(job.marks.front().id);
    evaluate();
    solid_timer.start();
    emit_changed(Change::part | Change::meshes | Change::job | Change::evaluation | Change::solid | Change::selection |
                 Change::ghost | Change::document);
    emit session.opened();
    if (!known) {
        const auto broken =
            std::ranges::find_if(left_out, [&](const process::LeftOut& one) { return one.file.stem() == unknown; });
        emit session.noticed(
            broken == left_out.end()
                ? tr("This job was made for a process that is not installed here (%1).").arg(text(unknown))
                : tr("This job was made for the process %1, whose file cannot be used: %2")
                      .arg(text(unknown), text(broken->error.message)),
            tr("%1 is used instead; choose another in the header.").arg(text(session.process().title)));
    }
    if (opened.part_changed && opened.lost.empty())
        emit session.noticed(tr("The part file has changed since its marks were placed."),
                             tr("Every mark found its face again. Look them over before saving."));
    if (opened.lost_faces > 0)
        emit session.noticed(tr("Kept clear, and not found again in the changed part file: %1.")
                                 .arg(counted(static_cast<qint64>(opened.lost_faces), tr("face"), tr("faces"))),
                             tr("Mark such faces anew, with Part → Keep faces clear."));
    if (!opened.lost.empty())
        emit session.noticed(tr("The part file has changed; %1 lost the face it was on.")
                                 .arg(counted(static_cast<qint64>(opened.lost.size()), tr("mark"), tr("marks"))),
                             tr("Drag such a mark to a new place, or delete it."));
}

void Session::close() {
    impl_->files.cancel();
    impl_->forget_results();
    impl_->job = {};
    impl_->part.reset();
    impl_->meshes.clear();
    impl_->job_file.clear();
    impl_->history.clear();
    impl_->emit_changed(Change::part | Change::meshes | Change::job | Change::evaluation | Change::solid |
                        Change::selection | Change::ghost | Change::document);
}

Status Session::save_job(const std::filesystem::path& file) {
    if (!impl_->part) return fail("session.no_part", "There is nothing to save yet.", "Open a part first.");
    end_gesture();
    if (Status saved = job::save_job(impl_->job, file); !saved) return saved;
    impl_->job_file = file;
    impl_->history.setClean();
    impl_->emit_changed(Change::document);
    return {};
}

void Session::save_step(const std::filesystem::path& file) {
    if (!impl_->part) return;
    end_gesture();
    impl_->files.run(
        tr("Saving %1").arg(name_of(file.filename())),
        [impl = impl_.get(), file, evaluator = impl_->evaluator, job = impl_->job, around = impl_->surroundings(),
         reader = impl_->parts.reader, store = impl_->step_store](const Progress& progress) -> Lane::Deliver {
            const auto give_up = [impl](const Error& error) {
                return [impl, error] {
                    if (error.code != cancelled_code) emit impl->session.failed(error);
                };
            };
            const auto marked = evaluator->build(job, around, progress);
            if (!marked) return give_up(marked.error());
            deliver::StepOptions options;
            options.volume_mm3 = (*marked)->volume_to_hold_mm3();
            options.unmarked = around.part;
            options.store = store;
            const auto report = deliver::write_step(*(*marked)->part, file, options, *reader, progress);
            if (!report) return give_up(report.error());
            return [impl, file, told = summary(*report)] { emit impl->session.saved(name_of(file), told); };
        });
    impl_->watch();
}

} // namespace touchmark::session
