// SPDX-License-Identifier: MIT
#include "app/window/files.h"

#include "app/panels/look.h"
#include "app/resources.h"

#include <QFileDialog>
#include <QFileInfo>
#include <QMessageBox>
#include <QPushButton>

namespace touchmark::window {
namespace {

std::filesystem::path path_of(const QString& file) {
    return {file.toStdString()};
}
QString text_of(const std::filesystem::path& path) {
    return QString::fromStdString(path.string());
}

} // namespace

Files::Files(session::Session& session, Settings& settings, QWidget* window)
    : QObject(window), session_(session), settings_(settings), window_(window) {
    connect(&session_, &session::Session::opened, this, [this] {
        const auto job = session_.job_file();
        remember(text_of(job.empty() ? session_.job().part.file : job));
    });
}

void Files::remember(const QString& file) {
    settings_.add_recent(file);
    settings_.set_folder(QFileInfo(file).absolutePath());
    emit recent_changed();
}

void Files::ask_and_open() {
    const QString file =
        QFileDialog::getOpenFileName(window_, tr("Open a part or a job"), settings_.folder(),
                                     tr("Parts and jobs (*.step *.stp *.STEP *.STP *.json);;All files (*)"));
    if (!file.isEmpty()) open(file);
}

void Files::open(const QString& file) {
    if (may_leave()) session_.open(path_of(file));
}

void Files::open_demo() {
    const auto demo = resources_folder() / "demo";
    const auto job = demo / "sensor-bracket.job.json";
    std::error_code ignored;
    open(text_of(std::filesystem::exists(job, ignored) ? job : demo / "sensor-bracket.step"));
}

QString Files::suggested_job() const {
    if (!session_.job_file().empty()) return text_of(session_.job_file());
    const auto& part = session_.job().part.file;
    return QFileInfo(text_of(part)).absolutePath() + u'/' + text_of(part.stem()) + QStringLiteral(".job.json");
}

QString Files::suggested_step() const {
    const auto& part = session_.job().part.file;
    return QFileInfo(text_of(part)).absolutePath() + u'/' + text_of(part.stem()) + QStringLiteral("-marked.step");
}

bool Files::save_job() {
    if (!session_.part()) return true;
    return session_.job_file().empty() ? save_job_as() : save_job_to(text_of(session_.job_file()));
}

bool Files::save_job_as() {
    if (!session_.part()) return true;
    QString file =
        QFileDialog::getSaveFileName(window_, tr("Save the job"), suggested_job(), tr("Touchmark jobs (*.job.json)"));
    if (file.isEmpty()) return false;
    if (!file.endsWith(QStringLiteral(".json"))) file += QStringLiteral(".job.json");
    return save_job_to(file);
}

bool Files::save_job_to(const QString& file) {
    if (const Status saved = session_.save_job(path_of(file)); !saved) {
        emit failed(saved.error());
        return false;
    }
    remember(file);
    emit job_saved(file);
    return true;
}

void Files::save_step() {
    if (!session_.part()) return;
    QString file =
        QFileDialog::getSaveFileName(window_, tr("Save the marked part"), suggested_step(), tr("STEP (*.step *.stp)"));
    if (file.isEmpty()) return;
    if (!file.endsWith(QStringLiteral(".step"), Qt::CaseInsensitive) &&
        !file.endsWith(QStringLiteral(".stp"), Qt::CaseInsensitive))
        file += QStringLiteral(".step");
    save_step_to(file);
}

void Files::save_step_to(const QString& file) {
    if (QFileInfo(file) == QFileInfo(text_of(session_.job().part.file))) {
        emit failed({"window.same_file", "The marked part would take the place of the part that was opened.",
                     "Choose another name; the marks could not be changed any more otherwise."});
        return;
    }
    session_.save_step(path_of(file));
}

void Files::close() {
    if (may_leave()) session_.close();
}

bool Files::may_leave() {
    if (!session_.modified()) return true;
    const QString name = QFileInfo(suggested_job()).fileName();
    QMessageBox question(QMessageBox::NoIcon, tr("Touchmark"), tr("Save the changes to %1?").arg(name),
                         QMessageBox::Save | QMessageBox::Discard | QMessageBox::Cancel, window_);
    question.setInformativeText(tr("Discarded, the edits since the last save are gone."));
    question.setDefaultButton(QMessageBox::Save);
    question.setEscapeButton(QMessageBox::Cancel);
    switch (question.exec()) {
    case QMessageBox::Save:
        return save_job();
    case QMessageBox::Discard:
        return true;
    default:
        return false;
    }
}

} // namespace touchmark::window
