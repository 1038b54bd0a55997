// SPDX-License-Identifier: MIT
#include "app/panels/wedge_rows.h"

#include "app/panels/look.h"
#include "app/panels/quantity_field.h"

#include <QGridLayout>
#include <QPushButton>
#include <algorithm>
#include <cmath>

namespace touchmark::panels {
namespace {

constexpr std::size_t least_rows = 3, most_rows = 12;
constexpr double least_percent = 1e-4;

} // namespace

WedgeRows::WedgeRows(QWidget* parent) : QWidget(parent), layout_(new QGridLayout(this)) {
    layout_->setContentsMargins(0, 0, 0, 0);
    layout_->setHorizontalSpacing(grid);
    layout_->setVerticalSpacing(grid / 2);
    layout_->setColumnStretch(0, 1);
    layout_->setColumnStretch(1, 1);
    layout_->addWidget(new QLabel(tr("Thickness"), this), 0, 0);
    layout_->addWidget(new QLabel(tr("Light through"), this), 0, 1);
    auto* more = new QPushButton(tr("One more step"), this);
    more->setProperty("look", "link");
    more->setAutoDefault(false);
    layout_->addWidget(more, static_cast<int>(most_rows) + 1, 0, 1, 2, Qt::AlignLeft);
    connect(more, &QPushButton::clicked, this, [this, more] {
        add_row(0, 0);
        more->setVisible(rows_.size() < most_rows);
    });
}

void WedgeRows::add_row(double thickness, double percent) {
    const auto field = [&](const QString& name, QuantityField::Options options, double value) {
        auto* made = new QuantityField(std::move(options), this);
        made->setAccessibleName(name.arg(rows_.size() + 1));
        made->set_value(value);
        made->setVisible(true);
        connect(made, &QuantityField::changed_to, this, &WedgeRows::changed);
        return made;
    };
    Row row{};
    row.thickness = field(tr("Thickness of step %1"),
                          {.measure = Measure::length,
                           .unit = QStringLiteral("mm"),
                           .least = 0,
                           .most = 100,
                           .step = 0.2,
                           .zero = QStringLiteral("–")},
                          thickness);
    row.through = field(tr("Light through step %1"),
                        {.measure = Measure::plain,
                         .unit = QStringLiteral("%"),
                         .least = 0,
                         .most = 100,
                         .step = 1,
                         .zero = QStringLiteral("–")},
                        percent);
    const int at = static_cast<int>(rows_.size()) + 1;
    layout_->addWidget(row.thickness, at, 0);
    layout_->addWidget(row.through, at, 1);
    rows_.push_back(row);
}

void WedgeRows::show_steps(const std::vector<process::WedgeStep>& steps) {
    for (const Row& row : rows_) {
        row.thickness->deleteLater();
        row.through->deleteLater();
    }
    rows_.clear();
    for (const process::WedgeStep& step : steps)
        add_row(step.thickness_mm, 100 * std::pow(10, step.log_transmission));
    while (rows_.size() < least_rows)
        add_row(0, 0);
}

std::vector<process::WedgeStep> WedgeRows::steps() const {
    std::vector<process::WedgeStep> out;
    for (const Row& row : rows_) {
        const double thickness = row.thickness->value(), percent = row.through->value();
        if (thickness <= 0 || percent < least_percent) continue;
        out.push_back({thickness, std::min(0.0, std::log10(percent / 100))});
    }
    std::ranges::stable_sort(out, {}, &process::WedgeStep::thickness_mm);
    return out;
}

} // namespace touchmark::panels
