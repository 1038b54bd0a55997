// SPDX-License-Identifier: MIT
#pragma once

#include "core/process/process.h"

#include <QWidget>
#include <vector>

class QGridLayout;

namespace touchmark::panels {

class QuantityField;

/// The steps of a printed wedge as a shop reads them: thickness, and how much of the light came through, in per cent.
class WedgeRows : public QWidget {
    Q_OBJECT

public:
    explicit WedgeRows(QWidget* parent = nullptr);
    void show_steps(const std::vector<process::WedgeStep>& steps);
    /// By thickness; rows in which nothing was typed are none.
    [[nodiscard]] std::vector<process::WedgeStep> steps() const;

signals:
    void changed();

private:
    struct Row {
        QuantityField *thickness, *through;
    };
    void add_row(double thickness, double percent);

    QGridLayout* layout_;
    std::vector<Row> rows_;
};

} // namespace touchmark::panels
