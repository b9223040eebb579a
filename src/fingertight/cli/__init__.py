"""The command line: shape-check what was typed, ask a room below, show a card.

frame      the commands there are, their help, exit statuses; no traceback passes it
terminal   commands declared, misuse said, files read, one answer printed
pages      cards as plain text
answers    the answer to a sum as plain text
printing   what every command that writes a PDF shares
commands/  the commands themselves, a family a file

A command is a parser and a function that is given its options and returns an exit status. Each module adds
its own (`add_parser`); heavy libraries are imported by the function, so that `--help` answers at once.
"""
