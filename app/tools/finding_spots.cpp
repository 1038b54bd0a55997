// SPDX-License-Identifier: MIT
#include "app/tools/finding_spots.h"

#include "app/tools/paint.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace touchmark::tools {
namespace {

constexpr std::size_t most_spots = 24;
constexpr double least_radius = 13;

} // namespace

const rules::Finding* FindingSpotsTool::finding() const {
    const auto evaluation = around_.session.evaluation();
    const auto index = around_.session.selected_finding();
    if (!evaluation || !index || *index >= evaluation->findings.size()) return nullptr;
    return &evaluation->findings[*index];
}

Vec3 FindingSpotsTool::normal_at(const rules::Finding& finding) const {
    const auto mark = around_.placed(finding.mark);
    return mark ? mark->normal() : Vec3{0, 0, 1};
}

void FindingSpotsTool::follow_selection() {
    const auto now = around_.session.selected_finding();
    const rules::Finding* selected = finding();
    if (now != shown_ && selected && !selected->where_on_part.empty())
        around_.viewport.fly_to(selected->where_on_part.front(), normal_at(*selected),
                                std::max(selected->extent_mm * 4, 6.0));
    shown_ = now;
    around_.viewport.update_overlay();
}

void FindingSpotsTool::paint(QPainter& painter) {
    const rules::Finding* selected = finding();
    if (!selected) return;
    const std::size_t count = std::min(selected->where_on_part.size(), most_spots);
    const Vec3 off = normal_at(*selected) * 0.02;
    for (std::size_t i = count; i-- > 0;) { // the worst last, on top
        const Vec3 spot = selected->where_on_part[i];
        if (!around_.viewport.visible(spot + off)) continue;
        const QPointF at = around_.viewport.to_widget(spot);
        const double radius =
            std::max(least_radius, selected->extent_mm / 2 * around_.viewport.pixels_per_mm(spot) + 6);
        QPolygonF circle;
        for (int step = 0; step <= 48; ++step) {
            const double angle = step * std::numbers::pi / 24;
            circle.append(at + QPointF(std::cos(angle), std::sin(angle)) * radius);
        }
        painter.setOpacity(i == 0 ? 1 : 0.7);
        draw_line(painter, around_.viewport, circle, i == 0 ? 2.5 : 1.25);
        painter.setOpacity(1);
        if (count > 1 && i < 9) {
            const QPointF badge = at + QPointF(radius, -radius) * 0.72;
            painter.setPen(Qt::NoPen);
            painter.setBrush(around_.viewport.accent());
            painter.drawEllipse(badge, 8.5, 8.5);
            painter.setPen(around_.viewport.palette().color(QPalette::HighlightedText));
            painter.drawText(QRectF(badge - QPointF(9, 9), QSizeF(18, 18)), Qt::AlignCenter, QString::number(i + 1));
        }
    }
}

} // namespace touchmark::tools
