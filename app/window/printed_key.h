// SPDX-License-Identifier: MIT
#pragma once

#include <QWidget>

namespace touchmark::window {

/// Says over the part what the colours of printed marks mean.
class PrintedKey : public QWidget {
    Q_OBJECT

public:
    explicit PrintedKey(QWidget* parent = nullptr);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    struct Row {
        QColor colour;
        QString words;
    };
    [[nodiscard]] QList<Row> rows() const;
};

} // namespace touchmark::window
