// SPDX-License-Identifier: MIT
#include "app/tools/lie_on_plate.h"

#include "app/tools/paint.h"

#include <QCoreApplication>
#include <QKeyEvent>
#include <QMouseEvent>
#include <QPainterPath>

namespace touchmark::tools {
namespace {

QString tr(const char* words) {
    return QCoreApplication::translate("LieOnPlateTool", words);
}

} // namespace

void LieOnPlateTool::set_running(bool running) {
    if (running == running_ || (running && !around_.session.part())) return;
    running_ = running;
    hovered_ = -1;
    obstacle_.clear();
    if (running)
        around_.viewport.setCursor(Qt::PointingHandCursor);
    else
        around_.viewport.unsetCursor();
    around_.viewport.update_overlay();
    if (running_changed) running_changed(running);
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
        hovered_ = face ? face->index : -1;
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
    const plate::Meshes& meshes = around_.session.meshes();
    if (hovered_ >= 0 && hovered_ < static_cast<int>(meshes.size())) {
        const part::FaceMesh& mesh = *meshes[static_cast<std::size_t>(hovered_)];
        const auto on_screen = [&](const std::array<float, 3>& p) {
            return around_.viewport.to_widget({p[0], p[1], p[2]});
        };
        QPainterPath area;
        area.setFillRule(Qt::WindingFill);
        for (const auto& [a, b, c] : mesh.triangles)
            area.addPolygon(
                QPolygonF({on_screen(mesh.points[a]), on_screen(mesh.points[b]), on_screen(mesh.points[c])}));
        QColor tint = around_.viewport.accent();
        tint.setAlphaF(0.28F);
        painter.setRenderHint(QPainter::Antialiasing, false); // triangles would show their seams
        painter.fillPath(area, tint);
        painter.setRenderHint(QPainter::Antialiasing);
        for (const auto& edge : mesh.edges) {
            QPolygonF line;
            for (const auto& p : edge)
                line.append(on_screen(p));
            draw_line(painter, around_.viewport, line, 1.5);
        }
    }
    draw_hint(painter, around_.viewport, tr("Click the face that lies on the plate. Esc leaves."));
    if (!obstacle_.isEmpty()) draw_label(painter, around_.viewport, pointer_, obstacle_);
}

} // namespace touchmark::tools
