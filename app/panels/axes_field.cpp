// SPDX-License-Identifier: MIT
#include "app/panels/axes_field.h"

#include "app/panels/look.h"
#include "app/panels/quantity_field.h"

#include <QGridLayout>
#include <algorithm>

namespace touchmark::panels {

AxesField::AxesField(QWidget* parent) : QWidget(parent), layout_(new QGridLayout(this)) {
    layout_->setContentsMargins(0, 0, 0, 0);
    layout_->setHorizontalSpacing(grid);
    layout_->setVerticalSpacing(grid / 2);
    layout_->setColumnStretch(1, 1);
}

void AxesField::show(const std::vector<content::Axis>& axes, std::span<const content::AxisSetting> values) {
    if (axes != axes_) {
        clear(*layout_);
        fields_.clear();
        axes_ = axes;
        for (const content::Axis& axis : axes) {
            const QString name = text(axis.name), tag = text(axis.tag);
            const double step = axis.most - axis.least > 50 ? 10 : 0.5;
            auto* field = new QuantityField({Measure::plain, {}, axis.least, axis.most, step}, this);
            field->setAccessibleName(name);
            field->setToolTip(tr("From %1 to %2").arg(axis.least).arg(axis.most));
            auto* title = new QLabel(name, this);
            make_quiet(*title);
            title->setBuddy(field);
            const int row = static_cast<int>(fields_.size());
            layout_->addWidget(title, row, 0);
            layout_->addWidget(field, row, 1);
            connect(field, &QuantityField::changed_to, this,
                    [this, tag](double value) { emit changed_to(tag, value); });
            connect(field, &QuantityField::trouble, this, &AxesField::trouble);
            fields_.push_back(field);
        }
    }
    for (std::size_t i = 0; i < axes.size(); ++i) {
        const auto set = std::ranges::find(values, axes[i].tag, &content::AxisSetting::tag);
        fields_[i]->set_value(set == values.end() ? axes[i].standard : set->value);
    }
}

} // namespace touchmark::panels
