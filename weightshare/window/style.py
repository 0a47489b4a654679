"""The theme put on Qt's own widgets: settings, notices, the big key. The focus is always seen."""

from __future__ import annotations

from weightshare.window.theme import Theme


def style_sheet(theme: Theme, text_px: int) -> str:
    """Return the style sheet of the window for `theme`, with small text of `text_px`."""
    return f"""
    QWidget {{ color: {theme.ink}; font-size: {text_px}px; }}
    #window, #bar, QDialog {{ background: {theme.ground}; }}
    #bar {{ border-top: 1px solid {theme.hairline}; }}
    #bar QLabel, #hint {{ color: {theme.quiet}; }}
    #bar #wrong, #hint[wrong="true"] {{
        color: {theme.outside}; font-size: {round(text_px * 1.35)}px; font-weight: 600;
    }}
    QLineEdit {{ placeholder-text-color: {theme.quiet}; }}
    QComboBox[unsaid="true"] {{ color: {theme.quiet}; font-style: italic; }}
    QLineEdit[unsaid="true"] {{ font-style: italic; }}
    QLineEdit:disabled {{ color: {theme.quiet}; background: {theme.ground}; border-color: {theme.hairline}; }}
    #group {{ font-weight: 600; border-bottom: 1px solid {theme.hairline}; padding-top: {text_px // 2}px; }}
    #file-key {{ color: {theme.quiet}; }}
    #strip {{ border-bottom: 1px solid {theme.hairline}; }}
    #strip #stage {{ font-size: {round(text_px * 1.5)}px; font-weight: 600; }}
    #strip #asked {{ font-size: {round(text_px * 1.2)}px; color: {theme.quiet}; }}
    #alert {{ color: {theme.outside}; font-weight: 600; }}
    QListWidget {{ background: {theme.raised}; border: 1px solid {theme.edge}; border-radius: 4px; }}
    QListWidget::item {{ padding: 4px; }}
    QListWidget::item:disabled {{ color: {theme.ink}; }}
    QListWidget::item:selected {{ background: {theme.inside}; color: {theme.ground}; }}
    QListWidget:focus {{ border: 2px solid {theme.outside}; }}
    QTableView {{
        background: {theme.raised}; border: 1px solid {theme.edge}; border-radius: 4px; outline: none;
        selection-background-color: {theme.inside}; selection-color: {theme.ground};
    }}
    QTableView::item {{ padding: 2px 8px; border-bottom: 1px solid {theme.hairline}; }}
    QTableView::item:selected {{ background: {theme.inside}; color: {theme.ground}; }}
    QTableView:focus {{ border: 2px solid {theme.outside}; }}
    QHeaderView {{ background: {theme.raised}; border: none; }}
    QHeaderView::section {{
        background: {theme.raised}; color: {theme.quiet}; border: none; border-bottom: 1px solid {theme.edge};
        padding: 3px 8px;
    }}
    QTabBar::tab {{
        background: {theme.ground}; color: {theme.quiet}; border: none; border-bottom: 3px solid {theme.hairline};
        padding: 4px 14px;
    }}
    QTabBar::tab:selected {{ color: {theme.ink}; font-weight: 600; border-bottom: 3px solid {theme.inside}; }}
    QTabBar:focus {{ border: 2px solid {theme.outside}; }}
    #ten {{ background: {theme.raised}; border: 1px solid {theme.edge}; border-radius: 4px; }}
    #ten:focus {{ border: 2px solid {theme.outside}; }}
    #ten #cell {{ padding: 4px; border-radius: 4px; }}
    #ten #cell[chosen="true"] {{ background: {theme.inside}; color: {theme.ground}; font-weight: 600; }}
    QScrollBar {{ background: {theme.ground}; border: none; width: 12px; }}
    QScrollBar::handle {{ background: {theme.edge}; border-radius: 4px; min-height: 24px; }}
    QScrollBar::add-line, QScrollBar::sub-line {{ width: 0; height: 0; }}
    QPlainTextEdit {{ background: {theme.raised}; border: 1px solid {theme.edge}; border-radius: 4px; }}
    QPlainTextEdit:focus {{ border: 2px solid {theme.outside}; }}
    #evidence {{ padding: 2px 16px; border-top: 1px solid {theme.hairline}; }}
    #notice {{ background: {theme.raised}; border: 2px solid {theme.edge}; border-radius: 8px; }}
    #caution {{ background: {theme.ground}; }}
    QSpinBox, QDoubleSpinBox, QLineEdit, QComboBox, QComboBox QAbstractItemView {{
        background: {theme.raised}; color: {theme.ink}; border: 1px solid {theme.edge}; border-radius: 4px;
        padding: 3px 5px; selection-background-color: {theme.inside}; selection-color: {theme.ground};
    }}
    QComboBox::drop-down {{ border: none; width: 18px; }}
    QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{ width: 0; height: 0; border: none; }}
    QPushButton {{
        background: {theme.raised}; border: 1px solid {theme.edge}; border-radius: 4px; padding: 4px 10px;
    }}
    QCheckBox {{ spacing: 6px; padding: 3px; border: 2px solid transparent; border-radius: 4px; }}
    QCheckBox::indicator {{
        width: {text_px}px; height: {text_px}px; border: 2px solid {theme.edge}; border-radius: 3px;
        background: {theme.raised};
    }}
    QCheckBox::indicator:checked {{ background: {theme.inside}; border-color: {theme.inside}; }}
    QSpinBox:focus, QDoubleSpinBox:focus, QLineEdit:focus, QComboBox:focus, QPushButton:focus, QCheckBox:focus {{
        border: 2px solid {theme.outside};
    }}
    QSpinBox:disabled, QDoubleSpinBox:disabled, QComboBox:disabled {{
        color: {theme.quiet}; background: {theme.ground}; border-color: {theme.hairline};
    }}
    #key {{
        background: {theme.inside}; color: {theme.ground}; border: none; border-radius: 10px;
        font-size: {round(text_px * 1.75)}px; font-weight: 600;
    }}
    QToolTip {{ background: {theme.raised}; color: {theme.ink}; border: 1px solid {theme.edge}; }}
    """
