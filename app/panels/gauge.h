// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/finding.h"

#include <QWidget>

namespace touchmark::panels {

/// A thin scale: where the figure is, where the limit, and the band in which nothing is said.
class Gauge : public QWidget {
    Q_OBJECT

public:
    explicit Gauge(QWidget* parent = nullptr);
    void set(const rules::Finding& finding);
    /// Whether a finding has a figure that a scale can show.
    [[nodiscard]] static bool suits(const rules::Finding& finding);
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override { return {120, sizeHint().height()}; }

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    struct Label {
        double value;
        QString text;
    };
    void paint_labels(class QPainter& painter, int y, std::vector<Label> labels) const;
    [[nodiscard]] double x_of(double value) const;

    double figure_ = 0, limit_ = 0, low_ = 0, high_ = 1;
    std::optional<double> comfortable_;
    bool more_is_better_ = true;
    QString unit_;
};

} // namespace touchmark::panels
