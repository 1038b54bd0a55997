// SPDX-License-Identifier: MIT
#include "app/panels/gauge.h"

#include "app/panels/look.h"
#include "core/base/number_text.h"

#include <QPainter>
#include <cmath>

namespace touchmark::panels {
namespace {
constexpr int bar_height = 6;
QString number(double value) {
    return text(number_text(value));
}
} // namespace

Gauge::Gauge(QWidget* parent) : QWidget(parent) {
    setFont(figures_font(small_font(*this)));
    setSizePolicy(QSizePolicy::Ignored, QSizePolicy::Fixed);
}

bool Gauge::suits(const rules::Finding& finding) {
    return std::isfinite(finding.figure) && std::isfinite(finding.limit) &&
           (finding.figure != 0 || finding.limit != 0) && !finding.unit.empty();
}

void Gauge::set(const rules::Finding& finding) {
    figure_ = finding.figure;
    limit_ = finding.limit;
    comfortable_ = finding.comfortable;
    unit_ = text(finding.unit);
    more_is_better_ = comfortable_ && *comfortable_ != limit_ ? *comfortable_ > limit_ : figure_ < limit_;
    const double most = std::max({figure_, limit_, comfortable_.value_or(limit_)});
    low_ = std::min({0.0, figure_, limit_});
    high_ = most + (most - low_) * 0.25;
    if (high_ <= low_) high_ = low_ + 1;
    if (low_ < 0) low_ -= (high_ - low_) * 0.1;
    QString spoken = tr("%1 %3; the limit is %2 %3").arg(number(figure_), number(limit_), unit_);
    if (comfortable_) spoken += tr("; comfortable from %1 %2").arg(number(*comfortable_), unit_);
    setAccessibleName(spoken);
    setToolTip(spoken);
    update();
}

QSize Gauge::sizeHint() const {
    return {200, 2 * fontMetrics().height() + bar_height + 8};
}

double Gauge::x_of(double value) const {
    return 1 + (width() - 2) * std::clamp((value - low_) / (high_ - low_), 0.0, 1.0);
}

void Gauge::paintEvent(QPaintEvent*) {
    QPainter painter(this);
    painter.setRenderHint(QPainter::Antialiasing);
    const QColor ink = palette().color(QPalette::WindowText), quiet = palette().color(QPalette::PlaceholderText);
    const int top = fontMetrics().height() + 4;
    const QRectF bar(1, top, width() - 2, bar_height);
    painter.setPen(Qt::NoPen);
    painter.setBrush(palette().color(QPalette::AlternateBase));
    painter.drawRoundedRect(bar, 3, 3);
    // The band in which nothing is said.
    const double good = x_of(comfortable_.value_or(limit_));
    painter.setBrush(palette().color(QPalette::Dark));
    painter.drawRoundedRect(more_is_better_ ? QRectF(QPointF(good, bar.top()), bar.bottomRight())
                                            : QRectF(bar.topLeft(), QPointF(good, bar.bottom())),
                            3, 3);
    painter.setPen(QPen(quiet, 1.5));
    const double limit = x_of(limit_);
    painter.drawLine(QPointF(limit, top - 2), QPointF(limit, top + bar_height + 2));
    painter.setPen(QPen(palette().color(QPalette::Base), 1.5));
    painter.setBrush(ink);
    painter.drawEllipse(QPointF(x_of(figure_), bar.center().y()), 5.5, 5.5);

    painter.setPen(ink);
    paint_labels(painter, 0, {{figure_, number(figure_) + u' ' + unit_}});
    painter.setPen(quiet);
    std::vector<Label> below{{limit_, tr("%1 limit").arg(number(limit_))}};
    if (comfortable_ && *comfortable_ != limit_)
        below.push_back({*comfortable_, tr("%1 comfortable").arg(number(*comfortable_))});
    paint_labels(painter, top + bar_height + 4, std::move(below));
}

void Gauge::paint_labels(QPainter& painter, int y, std::vector<Label> labels) const {
    std::ranges::sort(labels, {}, &Label::value);
    std::vector<double> starts;
    double free_from = 0;
    for (const Label& label : labels) {
        const double wide = painter.fontMetrics().horizontalAdvance(label.text);
        const double start =
            std::max(free_from, std::clamp(x_of(label.value) - wide / 2, 0.0, std::max(0.0, width() - wide)));
        starts.push_back(start);
        free_from = start + wide + grid;
    }
    double limit = width();
    for (std::size_t i = labels.size(); i-- > 0;) { // push back from the right edge
        const double wide = painter.fontMetrics().horizontalAdvance(labels[i].text);
        starts[i] = std::max(0.0, std::min(starts[i], limit - wide));
        limit = starts[i] - grid;
        painter.drawText(QPointF(starts[i], y + painter.fontMetrics().ascent()), labels[i].text);
    }
}

} // namespace touchmark::panels
