// SPDX-License-Identifier: MIT
#include "app/window/theme.h"

#include <QApplication>
#include <QFontDatabase>
#include <QProcess>
#include <QStyleFactory>

namespace touchmark::window {
namespace {

const Colours light{.ground = "#f0f0f0",
                    .sheet = "#ffffff",
                    .inset = "#e9e9e9",
                    .text = "#1a1a1a",
                    .quiet = "#575757",
                    .hairline = "#d2d2d2",
                    .border = "#8a8a8a",
                    .body = "#9a9a9a",
                    .accent = "#8b1d5e",
                    .on_accent = "#ffffff"};
const Colours dark{.ground = "#1b1b1b",
                   .sheet = "#262626",
                   .inset = "#333333",
                   .text = "#ececec",
                   .quiet = "#b0b0b0",
                   .hairline = "#3d3d3d",
                   .border = "#7c7c7c",
                   .body = "#6c6c6c",
                   .accent = "#f090c4",
                   .on_accent = "#1b1b1b"};

bool desktop_prefers_dark() {
    if (qEnvironmentVariable("GTK_THEME").contains(QStringLiteral("dark"), Qt::CaseInsensitive)) return true;
    QProcess settings; // GNOME and its relatives keep the wish here; no program, no wish
    settings.start(QStringLiteral("gsettings"), {QStringLiteral("get"), QStringLiteral("org.gnome.desktop.interface"),
                                                 QStringLiteral("color-scheme")});
    if (!settings.waitForFinished(300)) {
        settings.kill();
        settings.waitForFinished(100);
        return false;
    }
    return settings.readAllStandardOutput().contains("prefer-dark");
}

constexpr const char* sheet = R"(
QMainWindow, QDialog { background: @ground; }
QToolTip { background: @sheet; color: @text; border: 1px solid @border; padding: 6px 8px; }
QMenuBar { background: @ground; color: @text; border-bottom: 1px solid @hairline; padding: 0 8px; }
QMenuBar::item { padding: 5px 8px; background: transparent; }
QMenuBar::item:selected, QMenu::item:selected { background: @inset; color: @text; border-radius: 4px; }
QMenu { background: @sheet; color: @text; border: 1px solid @border; padding: 4px; }
QMenu::item { padding: 6px 24px 6px 12px; border-radius: 4px; }
QMenu::item:checked { font-weight: 600; }
QMenu::item:disabled { color: @quiet; }
QMenu::separator { height: 1px; background: @hairline; margin: 4px 8px; }
QPushButton { background: @sheet; border: 1px solid @border; border-radius: 6px; padding: 5px 11px; }
QPushButton:hover { background: @inset; }
QPushButton:pressed { background: @hairline; }
QPushButton:focus { border: 2px solid @accent; padding: 4px 10px; }
QPushButton:checked { border: 2px solid @accent; padding: 4px 10px; font-weight: 600; }
QPushButton:disabled { color: @quiet; border-color: @hairline; background: transparent; }
QPushButton::menu-indicator { image: none; }
QPushButton[look="primary"] { background: @accent; color: @on_accent; border: 1px solid @accent; font-weight: 600; padding: 6px 15px; }
QPushButton[look="primary"]:focus { border: 2px solid @text; padding: 5px 14px; }
QPushButton[look="primary"]:disabled { background: transparent; color: @quiet; border-color: @hairline; }
QPushButton[look="link"] { background: transparent; border: none; color: @accent; padding: 0 2px; text-align: right; }
QPushButton[look="link"]:hover, QPushButton[look="link"]:focus { text-decoration: underline; }
QPushButton[look="segment"] { padding: 5px 3px; }
QPushButton[look="segment"]:focus, QPushButton[look="segment"]:checked { padding: 4px 2px; }
QPushButton[look="fix"] { text-align: left; padding: 6px 11px; }
QPushButton[look="fix"]:focus { padding: 5px 10px; }
QPushButton[look="chip"] { border-radius: 13px; padding: 5px 13px; }
QPushButton[look="chip"]:focus { padding: 4px 12px; }
QPushButton[look="row"] { text-align: left; border: 1px solid transparent; background: transparent; padding: 5px 7px; }
QPushButton[look="row"]:hover { background: @inset; }
QPushButton[look="row"]:focus { border: 2px solid @accent; padding: 4px 6px; }
QLineEdit, QPlainTextEdit, QComboBox { background: @sheet; border: 1px solid @border; border-radius: 4px; padding: 4px 7px;
  selection-background-color: @accent; selection-color: @on_accent; }
QPlainTextEdit { padding: 3px 4px; }
QLineEdit:focus, QPlainTextEdit:focus, QComboBox:focus, QComboBox:on { border: 2px solid @accent; padding: 3px 6px; }
QPlainTextEdit:focus { padding: 2px 3px; }
QLineEdit[readOnly="true"] { background: transparent; border-color: transparent; padding: 4px 0; }
QLineEdit:disabled, QComboBox:disabled { color: @quiet; border-color: @hairline; background: transparent; }
QComboBox::drop-down { border: none; width: 20px; }
QComboBox::down-arrow { image: none; }
QComboBox QLineEdit { border: none; padding: 0; background: transparent; }
QComboBox QAbstractItemView, QListView { background: @sheet; border: 1px solid @border; outline: none;
  selection-background-color: @inset; selection-color: @text; }
QListView::item { padding: 4px; }
QListView::item:selected { background: @inset; color: @text; border-left: 3px solid @accent; }
QScrollArea, QScrollArea > QWidget > QWidget { background: transparent; }
QScrollBar:vertical { background: transparent; width: 10px; margin: 0; }
QScrollBar::handle:vertical { background: @border; border-radius: 3px; min-height: 32px; margin: 1px 2px; }
QScrollBar::add-line, QScrollBar::sub-line, QScrollBar::add-page, QScrollBar::sub-page { background: none; border: none; height: 0; width: 0; }
QSplitter::handle { background: @hairline; }
QProgressBar { background: @inset; border: none; border-radius: 3px; height: 6px; max-height: 6px; min-height: 6px; }
QProgressBar::chunk { background: @accent; border-radius: 3px; }
)";

} // namespace

QString key_of(Appearance appearance) {
    switch (appearance) {
    case Appearance::light:
        return QStringLiteral("light");
    case Appearance::dark:
        return QStringLiteral("dark");
    case Appearance::system:
        break;
    }
    return QStringLiteral("system");
}

Appearance appearance_from(const QString& key) {
    for (const Appearance one : {Appearance::light, Appearance::dark})
        if (key == key_of(one)) return one;
    return Appearance::system;
}

const Colours& colours(bool want_dark) {
    return want_dark ? dark : light;
}

QPalette palette_of(const Colours& c) {
    QPalette palette;
    const auto set = [&](QPalette::ColorRole role, const QColor& colour, const QColor& disabled) {
        palette.setColor(QPalette::All, role, colour);
        palette.setColor(QPalette::Disabled, role, disabled);
    };
    set(QPalette::Window, c.ground, c.ground);
    set(QPalette::Base, c.sheet, c.sheet);
    set(QPalette::AlternateBase, c.inset, c.inset);
    set(QPalette::Button, c.sheet, c.ground);
    set(QPalette::ToolTipBase, c.sheet, c.sheet);
    for (const auto role : {QPalette::WindowText, QPalette::Text, QPalette::ButtonText, QPalette::ToolTipText})
        set(role, c.text, c.quiet);
    set(QPalette::PlaceholderText, c.quiet, c.quiet);
    set(QPalette::Light, c.sheet, c.sheet);
    set(QPalette::Midlight, c.border, c.border);
    set(QPalette::Mid, c.hairline, c.hairline);
    set(QPalette::Dark, c.body, c.body);
    set(QPalette::Shadow, c.text, c.quiet);
    set(QPalette::Highlight, c.accent, c.quiet);
    set(QPalette::HighlightedText, c.on_accent, c.ground);
    set(QPalette::Link, c.accent, c.quiet);
    set(QPalette::LinkVisited, c.accent, c.quiet);
    return palette;
}

QString stylesheet_of(const Colours& c) {
    QString text = QString::fromLatin1(sheet);
    const std::pair<const char*, QColor> named[]{
        {"@on_accent", c.on_accent}, {"@ground", c.ground}, {"@sheet", c.sheet},
        {"@inset", c.inset},         {"@text", c.text},     {"@quiet", c.quiet},
        {"@border", c.border},       {"@accent", c.accent}, {"@hairline", c.hairline}};
    for (const auto& [name, colour] : named)
        text.replace(QLatin1String(name), colour.name());
    return text;
}

bool system_is_dark() {
    static const bool answer = qApp->palette().color(QPalette::Window).lightness() < 128 || desktop_prefers_dark();
    return answer;
}

bool is_dark(Appearance appearance) {
    return appearance == Appearance::system ? system_is_dark() : appearance == Appearance::dark;
}

void apply(QApplication& application, Appearance appearance) {
    (void)system_is_dark(); // asked before the palette is ours
    static bool dressed = false;
    if (!dressed) {
        application.setStyle(QStyleFactory::create(QStringLiteral("Fusion")));
        QFont font = application.font();
        if (QFontDatabase::families().contains(QStringLiteral("Inter"))) font.setFamily(QStringLiteral("Inter"));
        font.setPointSizeF(std::clamp(font.pointSizeF(), 10.0, 12.0));
        application.setFont(font);
        dressed = true;
    }
    const Colours& chosen = colours(is_dark(appearance));
    application.setPalette(palette_of(chosen));
    application.setStyleSheet(stylesheet_of(chosen));
}

} // namespace touchmark::window
