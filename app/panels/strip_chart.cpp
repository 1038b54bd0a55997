// SPDX-License-Identifier: MIT
#include "app/panels/strip_chart.h"

#include "app/panels/look.h"

#include <QPainter>
#include <algorithm>
#include <cmath>

namespace touchmark::panels {
namespace {

constexpr int line_height = 28, scale_height = 36, legend_height = 44;
constexpr double radius = 5.5; // of a dot
constexpr double names = 0.42; // of the width

/// A disc filled as far as its share, from the top round.
void paint_dot(QPainter& painter, QPointF at, double share, const QPalette& palette) {
    const QRectF box(at.x() - radius, at.y() - radius, 2 * radius, 2 * radius);
    painter.setPen(QPen(palette.color(QPalette::WindowText), 1.2));
    painter.setBrush(palette.color(QPalette::Base));
    painter.drawEllipse(box);
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette.color(QPalette::WindowText));
    if (share >= 1)
        painter.drawEllipse(box);
    else if (share > 0)
        painter.drawPie(box, 90 * 16, -static_cast<int>(std::lround(share * 360 * 16)));
}

void paint_before(QPainter& painter, double x, double top, double bottom, const QPalette& palette) {
    QPen pen(palette.color(QPalette::PlaceholderText), 1.5);
    pen.setDashPattern({2.5, 2});
    painter.setPen(pen);
    painter.drawLine(QPointF(x, top), QPointF(x, bottom));
}

void paint_after(QPainter& painter, double x, double top, double bottom, const QPalette& palette) {
    painter.setPen(QPen(palette.color(QPalette::Highlight), 2.5));
    painter.drawLine(QPointF(x, top), QPointF(x, bottom));
}

void paint_band(QPainter& painter, const QRectF& box, const QPalette& palette) {
    QColor colour = palette.color(QPalette::Highlight);
    colour.setAlphaF(0.22F);
    painter.setPen(Qt::NoPen);
    painter.setBrush(colour);
    painter.drawRect(box);
}

} // namespace

StripChart::StripChart(QWidget* parent) : QWidget(parent) {
    setFont(small_font(*this));
    QSizePolicy policy(QSizePolicy::Expanding, QSizePolicy::Fixed);
    setSizePolicy(policy);
}

void StripChart::show_findings(const StripFindings& found) {
    lines_.clear();
    widest_ = 0;
    QStringList words;
    for (const fitting::SeriesOutcome& outcome : found.fit.series) {
        const auto& series = *std::ranges::find(fitting::all_series(), outcome.letter, &fitting::Series::letter);
        if (series.kind != fitting::Kind::stroke && series.kind != fitting::Kind::gap) continue;
        Line line{QString(QChar(outcome.letter)), text(series.what), {}, {}, {}, outcome.base, outcome.fitted};
        int there = 0;
        for (const fitting::RowOutcome& row : found.fit.rows) {
            const fitting::Item& item = found.items[row.item];
            if (item.name.front() != outcome.letter || row.printed <= 0) continue;
            line.dots.push_back({item.size_mm, static_cast<double>(row.came_out) / row.printed});
            there += 2 * row.came_out > row.printed;
            widest_ = std::max(widest_, item.size_mm);
        }
        if (outcome.seen && !outcome.seen->low_open && !outcome.seen->high_open)
            line.low = outcome.seen->low, line.high = outcome.seen->high;
        words += tr("%1, %2: %3 of %4 came out").arg(line.letter, line.what).arg(there).arg(line.dots.size());
        lines_.push_back(std::move(line));
    }
    widest_ = std::max(widest_, 0.1);
    setAccessibleName(words.join(QStringLiteral("; ")));
    setVisible(!lines_.empty());
    updateGeometry();
    update();
}

QSize StripChart::sizeHint() const {
    return {480, static_cast<int>(lines_.size()) * line_height + scale_height + legend_height};
}

double StripChart::x_of(double mm, const QRectF& room) const {
    return room.left() + room.width() * mm / (1.05 * widest_);
}

void StripChart::paint_line(QPainter& painter, const Line& line, const QRectF& room) const {
    const double middle = room.center().y(), top = room.top() + 3, bottom = room.bottom() - 3;
    painter.setPen(QPen(palette().color(QPalette::Mid), 1));
    painter.drawLine(QPointF(room.left(), middle), QPointF(room.right(), middle));
    if (line.low && line.high)
        paint_band(painter, QRectF(QPointF(x_of(*line.low, room), top), QPointF(x_of(*line.high, room), bottom)),
                   palette());
    if (line.before) paint_before(painter, x_of(*line.before, room), top, bottom, palette());
    if (line.after) paint_after(painter, x_of(*line.after, room), top, bottom, palette());
    for (const Dot& dot : line.dots)
        paint_dot(painter, QPointF(x_of(dot.mm, room), middle), dot.share, palette());
    const QRectF name(0, room.top(), room.left() - grid, room.height());
    QFont strong = font();
    strong.setBold(true);
    painter.setFont(strong);
    painter.setPen(palette().color(QPalette::WindowText));
    painter.drawText(name, Qt::AlignLeft | Qt::AlignVCenter, line.letter);
    painter.setFont(font());
    const double letter = 2 * grid;
    painter.drawText(
        name.adjusted(letter, 0, 0, 0), Qt::AlignLeft | Qt::AlignVCenter,
        painter.fontMetrics().elidedText(line.what, Qt::ElideRight, static_cast<int>(name.width() - letter)));
}

void StripChart::paint_scale(QPainter& painter, const QRectF& room) const {
    const double step = widest_ > 2 ? 0.5 : widest_ > 0.9 ? 0.2 : 0.1;
    painter.setPen(palette().color(QPalette::PlaceholderText));
    painter.setFont(figures_font(font()));
    for (int i = 0; i * step <= 1.05 * widest_; ++i) {
        const double x = x_of(i * step, room);
        painter.drawLine(QPointF(x, room.top()), QPointF(x, room.top() + 4));
        painter.drawText(QRectF(x - 24, room.top() + 5, 48, 16), Qt::AlignHCenter | Qt::AlignTop,
                         QString::number(i * step, 'f', 1));
    }
    painter.setFont(font());
    painter.drawText(QRectF(0, room.top() + 5, room.left() - 3 * grid, 16), Qt::AlignRight | Qt::AlignTop,
                     tr("width, mm"));
}

void StripChart::paint_legend(QPainter& painter, QPointF at) const {
    const double middle = at.y() + 8;
    double x = at.x() + radius;
    const auto words = [&](const QString& said) {
        painter.setPen(palette().color(QPalette::WindowText));
        const double wide = painter.fontMetrics().horizontalAdvance(said);
        painter.drawText(QRectF(x, middle - 10, wide + 1, 20), Qt::AlignLeft | Qt::AlignVCenter, said);
        x += wide + 2 * grid;
    };
    for (const auto& [share, said] : {std::pair(1.0, tr("all came out")), {0.5, tr("half")}, {0.0, tr("none")}}) {
        paint_dot(painter, QPointF(x, middle), share, palette());
        x += 2 * radius;
        words(said);
    }
    x = at.x() + radius;
    const double second = middle + 22;
    const auto next = [&](auto&& sign, const QString& said) {
        sign();
        x += grid;
        painter.setPen(palette().color(QPalette::WindowText));
        const double wide = painter.fontMetrics().horizontalAdvance(said);
        painter.drawText(QRectF(x, second - 10, wide + 1, 20), Qt::AlignLeft | Qt::AlignVCenter, said);
        x += wide + 2 * grid;
    };
    next([&] { paint_before(painter, x, second - 8, second + 8, palette()); }, tr("simulated before"));
    next([&] { paint_after(painter, x, second - 8, second + 8, palette()); }, tr("simulated after"));
    next(
        [&] {
            paint_band(painter, QRectF(x - radius, second - 8, 3 * grid, 16), palette());
            x += 2 * grid;
        },
        tr("seen, half come out (95 %)"));
}

void StripChart::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const double left = std::round(names * width());
    QRectF room(left, 0, width() - left - grid, line_height);
    for (const Line& line : lines_) {
        paint_line(painter, line, room);
        room.translate(0, line_height);
    }
    paint_scale(painter, room);
    paint_legend(painter, {0, room.top() + scale_height});
}

IntervalScale::IntervalScale(QWidget* parent) : QWidget(parent) {}

void IntervalScale::show_figure(const fitting::FittedFigure& figure) {
    before_ = figure.base;
    value_ = figure.value;
    low_ = figure.value ? figure.low : 0;
    high_ = figure.value ? figure.high : 0;
    update();
}

void IntervalScale::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const double most = 1.15 * std::max({before_, high_, value_.value_or(0), 1e-6});
    const auto x_of = [&](double value) { return 1 + (width() - 2) * value / most; };
    const double middle = height() / 2.0;
    painter.setPen(QPen(palette().color(QPalette::Mid), 1));
    painter.drawLine(QPointF(1, middle), QPointF(width() - 1, middle));
    if (value_) paint_band(painter, QRectF(QPointF(x_of(low_), 2), QPointF(x_of(high_), height() - 2)), palette());
    paint_before(painter, x_of(before_), 1, height() - 1, palette());
    if (value_) paint_after(painter, x_of(*value_), 1, height() - 1, palette());
}

} // namespace touchmark::panels
