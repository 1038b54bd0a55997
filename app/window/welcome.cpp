// SPDX-License-Identifier: MIT
#include "app/window/welcome.h"

#include "app/panels/look.h"

#include <QFileInfo>
#include <QPainter>
#include <QPainterPath>
#include <QPushButton>
#include <QVBoxLayout>

namespace touchmark::window {
namespace {
using panels::grid;

/// The job in one picture: a part on its plate, a mark on its side wall, the layers it will be built from.
class Picture : public QWidget {
public:
    explicit Picture(QWidget* parent) : QWidget(parent) { setFixedSize(320, 168); }

protected:
    void paintEvent(QPaintEvent*) override {
        QPainter painter(this);
        painter.setRenderHint(QPainter::Antialiasing);
        const QColor ink = palette().color(QPalette::WindowText), quiet = palette().color(QPalette::Mid);
        const QPolygonF plate{{24, 140}, {96, 112}, {304, 112}, {256, 160}, {40, 160}};
        painter.setPen(Qt::NoPen);
        painter.setBrush(palette().color(QPalette::AlternateBase));
        painter.drawPolygon(QPolygonF{{16, 148}, {92, 112}, {308, 112}, {260, 164}, {20, 164}});
        const QPolygonF front{{72, 56}, {232, 56}, {232, 148}, {72, 148}},
            top{{72, 56}, {104, 24}, {264, 24}, {232, 56}}, side{{232, 56}, {264, 24}, {264, 112}, {232, 148}};
        painter.setPen(QPen(ink, 1.5, Qt::SolidLine, Qt::RoundCap, Qt::RoundJoin));
        painter.setBrush(palette().color(QPalette::Base));
        painter.drawPolygon(front);
        painter.setBrush(palette().color(QPalette::AlternateBase));
        painter.drawPolygon(top);
        painter.setBrush(quiet);
        painter.drawPolygon(side);
        painter.setPen(QPen(quiet, 1));
        for (int y = 68; y < 148; y += 8)
            painter.drawLine(QPointF(73, y), QPointF(231, y));
        QFont letters(font());
        letters.setPixelSize(34);
        letters.setWeight(QFont::Black);
        QPainterPath path;
        path.addText(0, 0, letters, QStringLiteral("A-17"));
        path.translate(152 - path.boundingRect().center().x(), 104 - path.boundingRect().center().y());
        painter.setPen(Qt::NoPen);
        painter.setBrush(palette().color(QPalette::Highlight));
        painter.drawPath(path);
    }
};

QPushButton* wide_button(const QString& title, QWidget* parent) {
    auto* button = new QPushButton(title, parent);
    button->setMinimumSize(200, 40);
    return button;
}

} // namespace

Welcome::Welcome(QWidget* parent) : QWidget(parent) {
    auto* title = new QLabel(tr("Put a mark on a part, and see how it will print"), this);
    QFont large = panels::strong_font(*title);
    large.setPointSizeF(large.pointSizeF() * 1.5);
    title->setFont(large);
    title->setAlignment(Qt::AlignCenter);
    auto* words = new QLabel(tr("Open a STEP file, or drop one anywhere in this window."), this);
    words->setForegroundRole(QPalette::PlaceholderText);
    words->setAlignment(Qt::AlignCenter);

    auto* open = wide_button(tr("Open a part …"), this);
    open->setProperty("look", "primary");
    connect(open, &QPushButton::clicked, this, &Welcome::open_asked);
    setFocusProxy(open);
    auto* demo = wide_button(tr("Try the demo part"), this);
    connect(demo, &QPushButton::clicked, this, &Welcome::demo_asked);
    auto* buttons = new QHBoxLayout;
    buttons->setSpacing(2 * grid);
    buttons->addStretch();
    buttons->addWidget(open);
    buttons->addWidget(demo);
    buttons->addStretch();

    recent_title_ = new QLabel(tr("Opened before"), this);
    panels::make_quiet(*recent_title_);
    auto* list = new QWidget(this);
    list->setFixedWidth(416);
    recent_ = new QVBoxLayout(list);
    recent_->setContentsMargins(0, 0, 0, 0);
    recent_->setSpacing(0);

    auto* layout = new QVBoxLayout(this);
    layout->setSpacing(2 * grid);
    layout->addStretch(2);
    layout->addWidget(new Picture(this), 0, Qt::AlignHCenter);
    layout->addWidget(title);
    layout->addWidget(words);
    layout->addSpacing(grid);
    layout->addLayout(buttons);
    layout->addSpacing(2 * grid);
    layout->addWidget(recent_title_, 0, Qt::AlignHCenter);
    layout->addWidget(list, 0, Qt::AlignHCenter);
    layout->addStretch(3);
    set_recent({});
}

void Welcome::set_recent(const QStringList& files) {
    panels::clear(*recent_);
    recent_title_->setVisible(!files.isEmpty());
    for (const QString& file : files.mid(0, 4)) {
        const QFileInfo info(file);
        const QString line = info.fileName() + QStringLiteral("    ") + info.path();
        auto* row = new QPushButton(this);
        row->setProperty("look", "row");
        row->setText(row->fontMetrics().elidedText(line, Qt::ElideMiddle, 396));
        row->setAccessibleName(tr("Open %1").arg(info.fileName()));
        row->setToolTip(file);
        connect(row, &QPushButton::clicked, this, [this, file] { emit file_asked(file); });
        recent_->addWidget(row);
    }
}

} // namespace touchmark::window
