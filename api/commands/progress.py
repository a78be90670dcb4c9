"""A progress bar on the terminal's error channel, for work that takes over a second."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from threading import Timer

PATIENCE_S = 1.0


@contextmanager
def progress_bar(words: str) -> Iterator[Callable[[float], None]]:
    """Show a bar while the work inside tells the share that is done; gone when it ends.

    Nothing is shown where the error channel is no terminal.
    """
    from rich.console import Console
    from rich.progress import Progress

    console = Console(stderr=True)
    if not console.is_terminal:
        yield lambda _share: None
        return
    with Progress(console=console, transient=True) as bars:
        task = bars.add_task(words, total=1.0)

        def tell(share: float) -> None:
            bars.update(task, completed=share)

        yield tell


@contextmanager
def shown_if_long(words: str) -> Iterator[None]:
    """Show that work goes on, where nobody knows how much is done, once it takes over a second.

    Nothing is shown where the error channel is no terminal.
    """
    from rich.console import Console

    console = Console(stderr=True)
    if not console.is_terminal:
        yield
        return
    status = console.status(words)
    timer = Timer(PATIENCE_S, status.start)
    timer.start()
    try:
        yield
    finally:
        timer.cancel()
        timer.join()
        status.stop()
