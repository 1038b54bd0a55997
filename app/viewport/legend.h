// SPDX-License-Identifier: MIT
#pragma once

#include "core/base/words.h"

#include <QColor>
#include <QString>
#include <QWidget>
#include <optional>
#include <vector>

namespace touchmark::process {
struct Process;
}

namespace touchmark::viewport {

/// One line of the shading's legend.
struct LegendEntry {
    Zone zone = Zone::side_wall;
    QColor colour;
    bool hatched = false;
    QString title;   ///< "Side wall"
    QString verdict; ///< "best": the first word of the process's reason
    QString reason;  ///< the whole of it
    double suitability = 0;
};
/// Of faces that are kept clear, in the look of the scene.
[[nodiscard]] LegendEntry kept_clear_entry(bool dark);
/// Best first.
[[nodiscard]] std::vector<LegendEntry> legend_entries(const process::Process& process, Mode mode);

/// What the shading means, in words: a swatch as it looks on the part, the zone, the verdict. The reason is the tooltip
/// of its line.
class Legend : public QWidget {
    Q_OBJECT

public:
    explicit Legend(QWidget* parent = nullptr);
    /// `keeps_clear`: a last line for faces that are kept clear of marks.
    void set_process(const process::Process& process, std::optional<Mode> mode, bool keeps_clear = false);
    [[nodiscard]] QSize sizeHint() const override;

protected:
    void paintEvent(QPaintEvent* event) override;
    bool event(QEvent* event) override;

private:
    [[nodiscard]] int row_height() const;
    std::vector<LegendEntry> entries_;
    QString heading_;
};

} // namespace touchmark::viewport
