// SPDX-License-Identifier: MIT
#include "app/panels/strip_work.h"

#include "app/panels/look.h"
#include "core/base/atomic_file.h"
#include "core/base/number_text.h"
#include "core/fitting/write_strip.h"

#include <QFileInfo>

namespace touchmark::panels {
namespace {

constexpr int poll_ms = 100;
namespace fs = std::filesystem;

struct Saved {
    fitting::WrittenStrip strip;
    QString step, sheet;
};

Result<Saved> saved(const process::Process& process, const QString& file, part::Reader& reader,
                    std::shared_ptr<const content::FontLibrary> fonts, const Progress& progress) {
    const auto strip = fitting::strip_for(process, progress);
    if (!strip) return std::unexpected(strip.error());
    const fs::path step = file.toStdString();
    fs::path sheet = step;
    sheet.replace_extension(".csv");
    const auto written = fitting::write_strip(*strip, process, std::move(fonts), step, reader, progress);
    if (!written) return std::unexpected(written.error());
    // A sheet that somebody has filled in is not overwritten.
    for (int number = 2; fs::exists(sheet); ++number)
        sheet.replace_filename(step.stem().string() + '-' + std::to_string(number) + ".csv");
    if (const Status done = write_text_atomically(sheet, fitting::empty_sheet(process, strip->items)); !done)
        return std::unexpected(done.error());
    return Saved{*written, QFileInfo(file).fileName(), text(sheet.filename().string())};
}

Result<StripFindings> findings(const process::Process& process, const QString& file, const Progress& progress) {
    auto bytes = read_text(file.toStdString());
    if (!bytes) return std::unexpected(bytes.error());
    const std::vector<fitting::Item> items = fitting::items_of(process);
    auto sheet = fitting::read_sheet(*std::move(bytes), items);
    if (!sheet) return std::unexpected(sheet.error());
    auto fit = fitting::fit_sheet(process, items, *sheet, progress);
    if (!fit) return std::unexpected(fit.error());
    return StripFindings{file, items, *std::move(sheet), *std::move(fit)};
}

} // namespace

StripWork::StripWork(session::Session& session, QObject* parent)
    : QObject(parent), session_(session), lane_(this, pool_, session::Lane::Newer::cancels) {
    pool_.setMaxThreadCount(1);
    pool_.setThreadPriority(QThread::LowPriority);
    poll_.setInterval(poll_ms);
    connect(&poll_, &QTimer::timeout, this, [this] {
        if (!busy()) poll_.stop();
        emit moved();
    });
}

StripWork::~StripWork() {
    lane_.cancel();
    pool_.waitForDone();
}

void StripWork::run(const QString& title, session::Lane::Work work) {
    lane_.run(title, std::move(work));
    poll_.start();
    emit moved();
}

void StripWork::tell(const Error& error) {
    if (error.code != cancelled_code) emit failed(error);
}

void StripWork::save_strip(const process::Process& process, const QString& step) {
    run(tr("Making the strip"),
        [this, process, step, reader = session_.reader(), fonts = session_.fonts()](const Progress& progress) {
            return [this, made = saved(process, step, *reader, fonts, progress)] {
                if (!made) return tell(made.error());
                const Vec3 size = made->strip.size_mm;
                emit told(tr("Wrote %1, %2 × %3 × %4 mm, read back and checked, and %5 to fill in.")
                              .arg(made->step, text(number_text(size.x)), text(number_text(size.y)),
                                   text(number_text(size.z)), made->sheet));
            };
        });
}

void StripWork::fit(const process::Process& process, const QString& sheet) {
    run(tr("Fitting"), [this, process, sheet](const Progress& progress) {
        return [this, found = findings(process, sheet, progress)]() mutable {
            if (!found) return tell(found.error());
            found_ = *std::move(found);
            emit found_anew();
            look_at_texts();
        };
    });
}

void StripWork::look_at_texts() {
    run(tr("Printing texts and codes in simulation"),
        [this, found = *found_, fonts = session_.fonts()](const Progress& progress) {
            return [this, all = fitting::outlook(found.fit, found.items, found.sheet, *fonts, progress)]() mutable {
                if (!all) return tell(all.error());
                if (!found_) return;
                found_->outlook = *std::move(all);
                emit found_anew();
            };
        });
}

void StripWork::cancel() {
    lane_.cancel();
    emit moved();
}

void StripWork::forget() {
    lane_.cancel();
    found_.reset();
    emit found_anew();
}

} // namespace touchmark::panels
