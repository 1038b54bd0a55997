// SPDX-License-Identifier: MIT
#pragma once

#include "core/rules/finding.h"

#include <QWidget>
#include <optional>

class QPainter;

namespace touchmark::panels {

/// Severity by shape: will not print is solid, at risk half filled, advice an outline; nothing found a tick.
void paint_severity(QPainter& painter, const QRectF& within, std::optional<rules::Severity> severity,
                    const QColor& ink);
/// "Will not print", "At risk", "Advice", "Nothing found".
[[nodiscard]] QString severity_word(std::optional<rules::Severity> severity);

/// The shape and the word beside each other.
class SeverityMark : public QWidget {
    Q_OBJECT

public:
    explicit SeverityMark(QWidget* parent = nullptr);
    /// `more`: how many further findings there are, told in words.
    void set(std::optional<rules::Severity> severity, const QString& word = {});
    [[nodiscard]] QSize sizeHint() const override;
    [[nodiscard]] QSize minimumSizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;

private:
    std::optional<rules::Severity> severity_;
    QString word_;
};

} // namespace touchmark::panels
