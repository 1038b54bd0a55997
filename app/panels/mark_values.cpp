// SPDX-License-Identifier: MIT
#include "app/panels/mark_values.h"

#include "app/panels/combo.h"
#include "app/panels/drawing_field.h"
#include "app/panels/look.h"
#include "app/panels/quantity_field.h"
#include "core/base/number_text.h"

#include <QAbstractItemView>
#include <QButtonGroup>
#include <QGridLayout>
#include <QPlainTextEdit>
#include <QPushButton>
#include <set>

namespace touchmark::panels {
namespace {

QString words_of(const job::Parameter& parameter, const job::Value& value) {
    const double* figure = std::get_if<double>(&value);
    if (figure && *figure == 0 && !parameter.zero.empty()) return text(parameter.zero);
    if (figure)
        return (text(number_text(*figure)) + (parameter.unit == "°" ? QString() : QStringLiteral(" ")) +
                text(parameter.unit))
            .trimmed();
    const std::string& key = std::get<std::string>(value);
    for (const auto& [choice, title] : parameter.choices)
        if (choice == key) return text(title);
    return text(key);
}

Measure measure_of(const job::Parameter& parameter) {
    switch (parameter.kind) {
    case job::Parameter::Kind::length:
        return Measure::length;
    case job::Parameter::Kind::angle:
        return Measure::angle;
    default:
        return Measure::plain;
    }
}

} // namespace

MarkValues::MarkValues(session::Session& session, FaceSurvey& survey, QString mark, QWidget* parent)
    : QWidget(parent), session_(session), survey_(survey), mark_(std::move(mark)) {
    auto* layout = new QGridLayout(this);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setHorizontalSpacing(grid);
    layout->setVerticalSpacing(grid / 2);
    layout->setColumnMinimumWidth(0, 88);
    layout->setColumnStretch(1, 1);
    for (const job::Parameter& parameter : job::parameters())
        add_row(parameter);
    add_name(*layout);
    refresh();
}

const job::Mark* MarkValues::mark() const {
    return session_.job().find(mark_.toStdString());
}

void MarkValues::add_row(const job::Parameter& parameter) {
    auto& layout = static_cast<QGridLayout&>(*this->layout());
    rows_.push_back(std::make_unique<Row>());
    Row& row = *rows_.back();
    row.parameter = &parameter;
    QWidget* editor = row.editor = make_editor(row);
    editor->setToolTip(text(parameter.help));
    editor->setMinimumWidth(48);
    editor->setAccessibleName(text(parameter.title));
    editor->setAccessibleDescription(text(parameter.help));

    auto* title = new QLabel(text(parameter.title), this);
    title->setToolTip(text(parameter.help));
    title->setBuddy(editor);
    row.standard = new QPushButton(this);
    row.standard->setProperty("look", "link");
    row.standard->setFont(small_font(*row.standard));
    row.standard->setCursor(Qt::PointingHandCursor);
    row.standard->hide();
    connect(row.standard, &QPushButton::clicked, this, [this, &row] { set(row, row.parameter->standard); });
    row.trouble = wrapping_label(this);
    row.trouble->setFont(small_font(*row.trouble));
    row.trouble->hide();

    const int line = layout.rowCount();
    if (&parameter == &job::parameters().front() && parameter.kind == job::Parameter::Kind::text) {
        layout.addWidget(editor, line, 0, 1, 2);
        title->hide();
        code_ = wrapping_label(this);
        code_->setFont(small_font(*code_));
        code_->setAccessibleName(tr("Size of the code"));
        layout.addWidget(code_, line + 1, 0, 1, 2);
    } else {
        row.title = title;
        if (parameter.key == "axes") title->setContentsMargins(0, grid / 2, 0, 0);
        layout.addWidget(title, line, 0, parameter.key == "axes" ? Qt::AlignTop : Qt::Alignment());
        layout.addWidget(editor, line, 1);
        layout.addWidget(row.standard, line + 1, 1, Qt::AlignRight);
    }
    layout.addWidget(row.trouble, line + 2, 0, 1, 2);
    if (parameter.key == "fit") {
        fit_ = wrapping_label(this);
        make_quiet(*fit_);
        layout.addWidget(fit_, line + 3, 1);
    }
}

void MarkValues::add_name(QGridLayout& layout) {
    const QString help = tr("Names the faces that this mark makes in the STEP file.");
    auto* name = new QLineEdit(this);
    name->setAccessibleName(tr("Name of the mark"));
    name->setToolTip(help);
    connect(name, &QLineEdit::editingFinished, this, [this, name] {
        if (!name->isModified()) return;
        name->setModified(false);
        const QString typed = name->text().trimmed();
        if (typed.isEmpty()) return refresh();
        (void)session_.edit(tr("Rename mark"), [mark = mark_.toStdString(), typed = typed.toStdString()](
                                                   const job::Job& job) { return job::rename_mark(job, mark, typed); });
    });
    show_name_ = [this, name] {
        if (mark() && !(name->hasFocus() && name->isModified()) && name->text() != text(mark()->name))
            name->setText(text(mark()->name)), name->setCursorPosition(0);
    };
    auto* title = new QLabel(tr("Name"), this);
    title->setToolTip(help);
    title->setBuddy(name);
    const int line = layout.rowCount();
    layout.addWidget(title, line, 0);
    layout.addWidget(name, line, 1);
}

QWidget* MarkValues::make_editor(Row& row) {
    if (row.parameter->key == "weight") return make_weight(row);
    if (row.parameter->key == "axes") return make_axes(row);
    switch (row.parameter->kind) {
    case job::Parameter::Kind::text:
        return make_text(row);
    case job::Parameter::Kind::family:
        return make_family(row);
    case job::Parameter::Kind::drawing:
        return make_drawing(row);
    case job::Parameter::Kind::line:
        return make_line(row);
    case job::Parameter::Kind::choice:
        return row.parameter->choices.size() <= 3 ? make_segments(row) : make_choice(row);
    default:
        return make_number(row);
    }
}

QWidget* MarkValues::make_text(Row& row) {
    text_ = new QPlainTextEdit(this);
    text_->setTabChangesFocus(true);
    text_->setLineWrapMode(QPlainTextEdit::NoWrap);
    text_->setHorizontalScrollBarPolicy(Qt::ScrollBarAlwaysOff);
    text_->setVerticalScrollBarPolicy(Qt::ScrollBarAsNeeded);
    text_->setFixedHeight(2 * text_->fontMetrics().lineSpacing() + 2 * grid + 4);
    text_->setPlaceholderText(tr("What the mark says"));
    row.show = [edit = text_](const job::Value& value) {
        const QString shown = text(std::get<std::string>(value));
        if (edit->toPlainText() == shown) return;
        const QSignalBlocker quiet(edit);
        edit->setPlainText(shown);
    };
    connect(text_, &QPlainTextEdit::textChanged, this, [this, &row] { set(row, text_->toPlainText().toStdString()); });
    return text_;
}

QWidget* MarkValues::make_number(Row& row) {
    const job::Parameter& parameter = *row.parameter;
    auto* field = new QuantityField({measure_of(parameter), text(parameter.unit), parameter.least, parameter.most,
                                     parameter.step, text(parameter.zero), parameter.unit.empty()},
                                    this);
    row.show = [field](const job::Value& value) { field->set_value(std::get<double>(value)); };
    connect(field, &QuantityField::changed_to, this, [this, &row](double value) { set(row, value); });
    connect(field, &QuantityField::trouble, this, [this, &row](const QString& message) { refuse(row, message); });
    return field;
}

QWidget* MarkValues::make_choice(Row& row) {
    auto* box = new Combo(this);
    for (const auto& [key, title] : row.parameter->choices)
        box->addItem(text(title), text(key));
    row.show = [box](const job::Value& value) {
        box->setCurrentIndex(box->findData(text(std::get<std::string>(value))));
    };
    connect(box, &QComboBox::activated, this,
            [this, &row, box] { set(row, box->currentData().toString().toStdString()); });
    return box;
}

QWidget* MarkValues::make_segments(Row& row) {
    auto* holder = new QWidget(this);
    auto* layout = new QHBoxLayout(holder);
    layout->setContentsMargins(0, 0, 0, 0);
    layout->setSpacing(grid / 2);
    auto* group = new QButtonGroup(holder);
    std::vector<std::pair<std::string, QPushButton*>> buttons;
    for (const auto& [key, title] : row.parameter->choices) {
        auto* button = new QPushButton(text(title), holder);
        button->setCheckable(true);
        button->setProperty("look", "segment");
        button->setAccessibleName(text(row.parameter->title) + QStringLiteral(": ") + text(title));
        button->setToolTip(text(row.parameter->help));
        button->setMinimumWidth(0);
        button->setSizePolicy(QSizePolicy::Expanding, QSizePolicy::Fixed);
        group->addButton(button);
        layout->addWidget(button);
        buttons.emplace_back(key, button);
        connect(button, &QPushButton::toggled, this, [this, &row, key = std::string(key)](bool on) {
            if (on) set(row, key);
        });
    }
    row.show = [buttons](const job::Value& value) {
        for (const auto& [key, button] : buttons) {
            const QSignalBlocker quiet(button);
            if (key == std::get<std::string>(value)) button->setChecked(true);
        }
    };
    if (!buttons.empty()) holder->setFocusProxy(buttons.front().second);
    return holder;
}

QWidget* MarkValues::make_weight(Row& row) {
    auto* box = new Combo(this);
    row.show = [this, box](const job::Value&) {
        if (box->view()->isVisible()) return; // being chosen from
        const auto* content = std::get_if<content::Text>(&mark()->content);
        std::set<std::pair<int, std::string>> weights;
        if (content)
            for (const content::FontFace& face : session_.fonts()->faces(content->family))
                if (!face.italic &&
                    std::ranges::find(weights, face.weight, &std::pair<int, std::string>::first) == weights.end())
                    weights.emplace(face.weight, face.style);
        const int now = content ? content->weight : 400;
        box->clear();
        for (const auto& [weight, style] : weights)
            box->addItem(text(style), weight);
        // A variable font meets weights between the named ones.
        const bool named = std::ranges::find(weights, now, &std::pair<int, std::string>::first) != weights.end();
        const auto axes = content && !named ? session_.fonts()->axes(content->family) : std::vector<content::Axis>{};
        if (std::ranges::find(axes, "wght", &content::Axis::tag) != axes.end()) box->addItem(QString::number(now), now);
        int nearest = -1;
        for (int i = 0; i < box->count(); ++i)
            if (nearest < 0 ||
                std::abs(box->itemData(i).toInt() - now) < std::abs(box->itemData(nearest).toInt() - now))
                nearest = i;
        box->setCurrentIndex(nearest);
    };
    connect(box, &QComboBox::activated, this, [this, &row, box] {
        const int weight = box->currentData().toInt();
        if (std::holds_alternative<double>(row.parameter->standard))
            set(row, static_cast<double>(weight));
        else
            set(row, std::to_string(weight));
    });
    return box;
}

QWidget* MarkValues::make_line(Row& row) {
    auto* edit = new QLineEdit(this);
    row.show = [edit](const job::Value& value) {
        const QString shown = text(std::get<std::string>(value));
        if (edit->text() != shown) edit->setText(shown);
    };
    connect(edit, &QLineEdit::textEdited, this, [this, &row](const QString& typed) { set(row, typed.toStdString()); });
    return edit;
}

QWidget* MarkValues::make_drawing(Row& row) {
    auto* field = new DrawingField(this);
    row.show = [this, field](const job::Value&) {
        const auto* art = std::get_if<content::Art>(&mark()->content);
        field->set_name(art && art->drawing ? text(art->name) : QString());
    };
    const auto complain = [this, &row](const QString& message) { refuse(row, message); };
    connect(field, &DrawingField::trouble, this, complain);
    connect(field, &DrawingField::chosen, this, [this, complain](const QString& name, const QByteArray& bytes) {
        const auto art = content::art_from(name.toStdString(), bytes.toStdString());
        if (!art) return complain(text(art.error().message) + u' ' + text(art.error().hint));
        const Status done = session_.edit(tr("Drawing"), [mark = mark_.toStdString(), art = *art](const job::Job& job) {
            return job::set_content(job, mark, art);
        });
        complain(done ? QString() : text(done.error().message));
    });
    return field;
}

void MarkValues::refuse(Row& row, const QString& message) {
    row.refused = message;
    row.trouble->setText(message);
    row.trouble->setVisible(!message.isEmpty());
}

void MarkValues::set(Row& row, const job::Value& value) {
    const job::Parameter& parameter = *row.parameter;
    row.refused.clear();
    const Status status =
        session_.edit_merged(text(parameter.title), mark_ + u'/' + text(parameter.key),
                             [mark = mark_.toStdString(), key = std::string(parameter.key),
                              value](const job::Job& job) { return job::set_parameter(job, mark, key, value); });
    if (!status) refuse(row, text(status.error().message));
}

void MarkValues::refresh() {
    const job::Mark* shown = mark();
    if (!shown) return;
    show_name_();
    show_fit(*shown);
    Error wrong = show_code(*shown);
    const bool settled = !wrong.code.empty() || session_.evaluation_is_current();
    if (wrong.code.empty()) wrong = trouble_of(*shown);
    const std::string_view blamed = job::key_to_blame(wrong.code, shown->content);
    std::optional<part::FaceKind> kind;
    const auto face = static_cast<std::size_t>(shown->anchor.face);
    if (session_.part() && shown->anchor.face >= 0 && face < session_.part()->faces().size())
        kind = session_.part()->faces()[face].kind;
    for (const auto& row : rows_) {
        const job::Parameter& parameter = *row->parameter;
        bool had = job::has(*shown, parameter) && (!parameter.shown_for || parameter.shown_for(*shown, kind));
        if (had && parameter.key == "axes")
            had = !session_.fonts()->axes(std::get<content::Text>(shown->content).family).empty();
        row->editor->setVisible(had);
        if (row->title) row->title->setVisible(had);
        if (!had) {
            row->standard->hide();
            row->trouble->hide();
            continue;
        }
        const job::Value value = parameter.get(*shown);
        row->show(value);
        const QString why =
            parameter.key == blamed ? (text(wrong.message) + u' ' + text(wrong.hint)).trimmed() : QString();
        // What is being worked out again stays as it was, lest the fields below jump.
        if (settled || !row->refused.isEmpty()) {
            row->trouble->setText(row->refused.isEmpty() ? why : row->refused);
            row->trouble->setVisible(!row->trouble->text().isEmpty());
        }
        const bool departs = value != parameter.standard && parameter.kind != job::Parameter::Kind::text &&
                             parameter.kind != job::Parameter::Kind::line &&
                             parameter.kind != job::Parameter::Kind::drawing && parameter.key != "kind";
        row->standard->setText(tr("default %1").arg(words_of(parameter, parameter.standard)));
        row->standard->setAccessibleName(
            tr("%1: back to the default, %2").arg(text(parameter.title), words_of(parameter, parameter.standard)));
        row->standard->setVisible(departs);
    }
}

void MarkValues::edit_text() {
    if (!text_) return;
    text_->setFocus(Qt::OtherFocusReason);
    text_->selectAll();
}

void MarkValues::type_text(const QString& typed) {
    edit_text();
    if (text_ && !typed.isEmpty()) text_->insertPlainText(typed);
}

} // namespace touchmark::panels
