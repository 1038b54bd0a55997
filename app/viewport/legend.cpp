// SPDX-License-Identifier: MIT
#include "app/viewport/legend.h"

#include "app/viewport/look.h"
#include "app/viewport/shading.h"
#include "core/process/process.h"

#include <QHelpEvent>
#include <QPainter>
#include <QPainterPath>
#include <QToolTip>
#include <algorithm>

namespace touchmark::viewport {
namespace {

constexpr int inset = 12, swatch_width = 20, swatch_height = 14, between = 8;

QString text(std::string_view utf8) {
    return QString::fromUtf8(utf8.data(), static_cast<qsizetype>(utf8.size()));
}

QColor colour_of(const part::Colour& c) {
    return QColor::fromRgbF(c.red, c.green, c.blue);
}

/// As the part's shader stripes it.
void draw_swatch(QPainter& painter, const QRectF& box, const LegendEntry& entry, const QColor& frame) {
    QPainterPath shape;
    shape.addRoundedRect(box, 2, 2);
    painter.fillPath(shape, entry.colour);
    if (entry.hatched) {
        painter.save();
        painter.setClipPath(shape);
        painter.setPen(QPen(QColor::fromRgbF(0.93F, 0.93F, 0.93F), 1.6));
        for (double x = box.left() - box.height(); x < box.right(); x += 6)
            painter.drawLine(QPointF(x, box.bottom()), QPointF(x + box.height(), box.top()));
        painter.restore();
    }
    painter.setPen(frame);
    painter.setBrush(Qt::NoBrush);
    painter.drawPath(shape);
}

} // namespace

std::vector<LegendEntry> legend_entries(const process::Process& process, Mode mode) {
    std::vector<LegendEntry> entries;
    for (const Zone zone : zones) {
        const process::Suitability* suits = process.suitability_of(mode, zone);
        if (!suits) continue;
        const QString reason = text(suits->reason);
        const qsizetype colon = reason.indexOf(QLatin1Char(':'));
        entries.push_back({zone, colour_of(colour_of_suitability(suits->figure.value)),
                           suits->figure.value < avoid_below, text(title_of(zone)),
                           colon > 0 && colon < 16 ? reason.left(colon).toLower() : QString(), reason,
                           suits->figure.value});
    }
    std::ranges::stable_sort(entries, std::ranges::greater{}, &LegendEntry::suitability);
    return entries;
}

Legend::Legend(QWidget* parent) : QWidget(parent) {
    setObjectName(QStringLiteral("legend"));
    setAccessibleName(tr("Legend of the part's shading"));
    setSizePolicy(QSizePolicy::Fixed, QSizePolicy::Fixed);
}

LegendEntry kept_clear_entry(bool dark) {
    LegendEntry entry;
    entry.colour = colour_of(look_of(dark ? Theme::dark : Theme::light).kept_clear);
    entry.hatched = true;
    entry.title = Legend::tr("Kept clear");
    entry.verdict = Legend::tr("no marks");
    entry.reason = Legend::tr("Sealing, mating or load-bearing faces, as the job says.");
    return entry;
}

void Legend::set_process(const process::Process& process, std::optional<Mode> mode, bool keeps_clear) {
    entries_ = mode ? legend_entries(process, *mode) : std::vector<LegendEntry>();
    if (keeps_clear) entries_.push_back(kept_clear_entry(palette().color(QPalette::Base).lightness() < 128));
    heading_ = !mode                    ? keeps_clear ? tr("On this part") : QString()
                                  : *mode == Mode::engrave ? tr("Where a cut mark prints")
               : *mode == Mode::raise   ? tr("Where a raised mark prints")
               : *mode == Mode::hidden  ? tr("Where a hidden mark prints")
               : *mode == Mode::inlay   ? tr("Where an inlay prints")
                                        : tr("Where an opening prints");
    QStringList spoken;
    for (const LegendEntry& entry : entries_)
        spoken += tr("%1: %2").arg(entry.title, entry.reason);
    setAccessibleDescription(spoken.join(QLatin1Char('\n')));
    setVisible(!entries_.empty());
    updateGeometry();
    resize(sizeHint());
    update();
}

int Legend::row_height() const {
    return std::max(fontMetrics().height() + 4, swatch_height + 6);
}

QSize Legend::sizeHint() const {
    if (entries_.empty()) return {0, 0};
    int width = fontMetrics().horizontalAdvance(heading_);
    for (const LegendEntry& entry : entries_)
        width =
            std::max(width, swatch_width + between +
                                fontMetrics().horizontalAdvance(entry.title + QStringLiteral("  ") + entry.verdict));
    return {width + 2 * inset, static_cast<int>(entries_.size() + 1) * row_height() + 2 * inset - 4};
}

void Legend::paintEvent(QPaintEvent*) {
    if (entries_.empty()) return;
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    QColor sheet = palette().color(QPalette::Base);
    sheet.setAlphaF(0.97F);
    painter.setPen(QPen(palette().color(QPalette::Mid), 1));
    painter.setBrush(sheet);
    painter.drawRoundedRect(QRectF(rect()).adjusted(0.5, 0.5, -0.5, -0.5), 6, 6);
    const QColor words = palette().color(QPalette::WindowText), quiet = palette().color(QPalette::PlaceholderText);
    painter.setPen(quiet);
    const int row = row_height();
    painter.drawText(QRect(inset, inset - 4, width() - 2 * inset, row), Qt::AlignVCenter, heading_);
    int top = inset - 4 + row;
    for (const LegendEntry& entry : entries_) {
        draw_swatch(painter, QRectF(inset + 0.5, top + (row - swatch_height) / 2 + 0.5, swatch_width, swatch_height),
                    entry, palette().color(QPalette::Mid));
        QRect line(inset + swatch_width + between, top, width() - inset - swatch_width - between, row);
        painter.setPen(words);
        painter.drawText(line, Qt::AlignVCenter, entry.title);
        line.setLeft(line.left() + fontMetrics().horizontalAdvance(entry.title + QStringLiteral("  ")));
        painter.setPen(quiet);
        painter.drawText(line, Qt::AlignVCenter, entry.verdict);
        top += row;
    }
}

bool Legend::event(QEvent* event) {
    if (event->type() == QEvent::ToolTip) {
        auto* help = static_cast<QHelpEvent*>(event);
        const int line = (help->pos().y() - inset + 4) / row_height() - 1;
        if (line >= 0 && line < static_cast<int>(entries_.size()))
            QToolTip::showText(help->globalPos(), entries_[static_cast<std::size_t>(line)].reason, this);
        else
            QToolTip::hideText();
        return true;
    }
    return QWidget::event(event);
}

} // namespace touchmark::viewport
