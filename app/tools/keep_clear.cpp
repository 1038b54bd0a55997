// SPDX-License-Identifier: MIT
#include "app/tools/keep_clear.h"

#include "app/tools/paint.h"

#include <QCoreApplication>
#include <QKeyEvent>
#include <QLineEdit>
#include <QMouseEvent>
#include <QWidgetAction>

namespace touchmark::tools {
namespace {

QString tr(const char* words) {
    return QCoreApplication::translate("KeepClearTool", words);
}

QString title_of(const job::ClearFace& face) {
    const QString title = text(job::title_of(face.reason));
    return face.note.empty() ? title : title + QStringLiteral(": ") + text(face.note);
}

} // namespace

void KeepClearTool::set_running(bool running) {
    if (running == running_ || (running && !around_.session.part())) return;
    running_ = running;
    mean(-1);
    if (menu_) menu_->close();
    around_.pick_faces(running);
    if (running_changed) running_changed(running);
}

void KeepClearTool::mean(int face) {
    if (face == meant_) return;
    meant_ = face;
    around_.show_meant(face);
}

int KeepClearTool::face_at(QPointF at) const {
    const auto hit = around_.viewport.pick(at);
    return hit && around_.session.part() ? hit->face : -1;
}

void KeepClearTool::keep(int face, job::ClearReason reason, const QString& note) {
    const part::PartPtr part = around_.session.part();
    if (!part || face < 0 || face >= static_cast<int>(part->faces().size())) return;
    const job::ClearFace kept{face, part->faces()[static_cast<std::size_t>(face)].fingerprint, reason,
                              note.trimmed().toStdString()};
    (void)around_.session.edit(tr("Keep a face clear"),
                               [kept](const job::Job& job) { return job::keep_clear(job, kept); });
}

void KeepClearTool::release(int face) {
    (void)around_.session.edit(tr("Let marks lie on a face"),
                               [face](const job::Job& job) { return job::release(job, face); });
}

void KeepClearTool::ask(int face, QPoint at) {
    delete menu_;
    menu_ = new QMenu(&around_.viewport);
    menu_->setObjectName(QStringLiteral("keep_clear"));
    const job::ClearFace* now = job::kept_clear(around_.session.job(), face);
    auto* note = new QLineEdit(menu_);
    note->setPlaceholderText(tr("Note, e.g. O-ring"));
    note->setMaxLength(60);
    if (now) note->setText(text(now->note));
    for (const job::ClearReason reason : job::clear_reasons) {
        QAction* action = menu_->addAction(reason == job::ClearReason::other ? tr("For another reason")
                                                                             : text(job::title_of(reason)));
        action->setObjectName(text(job::key_of(reason)));
        action->setCheckable(true);
        action->setChecked(now && now->reason == reason);
        QObject::connect(action, &QAction::triggered, menu_,
                         [this, face, reason, note] { keep(face, reason, note->text()); });
    }
    auto* field = new QWidgetAction(menu_);
    field->setDefaultWidget(note);
    menu_->addAction(field);
    menu_->addSeparator();
    QAction* free = menu_->addAction(tr("Marks may lie here"));
    free->setObjectName(QStringLiteral("release"));
    free->setEnabled(now != nullptr);
    QObject::connect(free, &QAction::triggered, menu_, [this, face] { release(face); });
    menu_->popup(around_.viewport.mapToGlobal(at));
}

bool KeepClearTool::handle(QEvent& event) {
    if (!running_) return false;
    switch (event.type()) {
    case QEvent::MouseMove: {
        const auto& moved = static_cast<QMouseEvent&>(event);
        if (moved.buttons() != Qt::NoButton) return false;
        pointer_ = moved.position();
        mean(face_at(pointer_));
        around_.viewport.update_overlay();
        return true;
    }
    case QEvent::MouseButtonPress: {
        const auto& press = static_cast<QMouseEvent&>(event);
        const int face = press.button() == Qt::LeftButton ? face_at(press.position()) : -1;
        if (face < 0) return false;
        ask(face, press.position().toPoint());
        return true;
    }
    case QEvent::KeyPress:
        if (static_cast<QKeyEvent&>(event).key() != Qt::Key_Escape) return false;
        set_running(false);
        return true;
    default:
        return false;
    }
}

void KeepClearTool::paint(QPainter& painter) {
    if (!running_) return;
    draw_hint(painter, around_.viewport, tr("Click a face to keep it clear of marks, or to release it. Esc leaves."));
    if (const job::ClearFace* face = job::kept_clear(around_.session.job(), meant_))
        draw_label(painter, around_.viewport, pointer_, title_of(*face));
}

} // namespace touchmark::tools
