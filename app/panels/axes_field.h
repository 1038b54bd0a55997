// SPDX-License-Identifier: MIT
#pragma once

#include "core/content/fonts.h"

#include <QWidget>
#include <vector>

class QGridLayout;

namespace touchmark::panels {

class QuantityField;

/// What a variable font can be set to: a number an axis, with its range.
class AxesField : public QWidget {
    Q_OBJECT

public:
    explicit AxesField(QWidget* parent = nullptr);
    /// Values that are not given stand at the axis's standard.
    void show(const std::vector<content::Axis>& axes, std::span<const content::AxisSetting> values);

signals:
    void changed_to(const QString& tag, double value);
    void trouble(const QString& message);

private:
    QGridLayout* layout_;
    std::vector<content::Axis> axes_;
    std::vector<QuantityField*> fields_;
};

} // namespace touchmark::panels
