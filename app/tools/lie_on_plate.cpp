// SPDX-License-Identifier: MIT
#include "app/tools/lie_on_plate.h"

#include "app/tools/paint.h"

#include <QCoreApplication>
#include <QKeyEvent>
#include <QMouseEvent>

namespace touchmark::tools {
namespace {

QString tr(const char* words) {
    return QCoreApplication::translate("LieOnPlateTool", words);
}

} // namespace

void LieOnPlateTool::set_running(bool running) {
    if (running == running_ || (running && !around_.session.part())) return;
    running_ = running;
    obstacle_.clear();
    mean(-1);
    around_.pick_faces(running);
    if (running_changed) running_changed(running);
}

void LieOnPlateTool::mean(int face) {
    if (face == meant_) return;
    meant_ = face;
    around_.show_meant(face);
}

const part::Face* LieOnPlateTool::flat_face_at(QPointF at) {
    obstacle_.clear();
    const auto hit = around_.viewport.pick(at);
    const part::PartPtr part = around_.session.part();
    if (!hit || hit->face < 0 || !part) return nullptr;
    const part::Face& face = part->faces()[static_cast<std::size_t>(hit->face)];
    if (face.kind == part::FaceKind::plane) return &face;
    obstacle_ = tr("Only a flat face can lie on the plate");
    return nullptr;
}

bool LieOnPlateTool::handle(QEvent& event) {
    if (!running_) return false;
    switch (event.type()) {
    case QEvent::MouseMove: {
        const auto& moved = static_cast<QMouseEvent&>(event);
        if (moved.buttons() != Qt::NoButton) return false;
        pointer_ = moved.position();
        const part::Face* face = flat_face_at(pointer_);
        mean(face ? face->index : -1);
        around_.viewport.setCursor(obstacle_.isEmpty() ? Qt::PointingHandCursor : Qt::ForbiddenCursor);
        around_.viewport.update_overlay();
        return true;
    }
    case QEvent::MouseButtonPress: {
        const auto& press = static_cast<QMouseEvent&>(event);
        const part::Face* face = press.button() == Qt::LeftButton ? flat_face_at(press.position()) : nullptr;
        if (!face) return false;
        const plate::Pose pose = plate::with_down(around_.session.job().pose, face->frame.z);
        set_running(false);
        (void)around_.session.edit(tr("Lay a face on the plate"),
                                   [pose](const job::Job& job) { return job::set_pose(job, pose); });
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

void LieOnPlateTool::paint(QPainter& painter) {
    if (!running_) return;
    draw_hint(painter, around_.viewport, tr("Click the face that lies on the plate. Esc leaves."));
    if (!obstacle_.isEmpty()) draw_label(painter, around_.viewport, pointer_, obstacle_);
}

} // namespace touchmark::tools
