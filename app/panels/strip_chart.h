// SPDX-License-Identifier: MIT
#pragma once

#include "app/panels/strip_work.h"

#include <QWidget>

namespace touchmark::panels {

/// Which strokes and gaps came out, by their width, a line a series; and from where on they do in the simulated print,
/// before and after.
class StripChart : public QWidget {
    Q_OBJECT

public:
    explicit StripChart(QWidget* parent = nullptr);
    void show_findings(const StripFindings& found);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return sizeHint(); }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    struct Dot {
        double mm, share; ///< of the strips
    };
    struct Line {
        QString letter, what;
        std::vector<Dot> dots;
        std::optional<double> low, high, before, after;
    };
    void paint_line(QPainter& painter, const Line& line, const QRectF& room) const;
    void paint_scale(QPainter& painter, const QRectF& room) const;
    void paint_legend(QPainter& painter, QPointF at) const;
    [[nodiscard]] double x_of(double mm, const QRectF& room) const;

    std::vector<Line> lines_;
    double widest_ = 1; ///< mm
};

/// A figure's interval on a scale from nothing on, and where it was before.
class IntervalScale : public QWidget {
    Q_OBJECT

public:
    explicit IntervalScale(QWidget* parent = nullptr);
    void show_figure(const fitting::FittedFigure& figure);
    [[nodiscard]] QSize sizeHint() const override { return {128, 16}; }
    [[nodiscard]] QSize minimumSizeHint() const override { return {64, 16}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    double before_ = 0, low_ = 0, high_ = 0;
    std::optional<double> value_;
};

} // namespace touchmark::panels
