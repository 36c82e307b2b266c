"""What runs when jigmaker is called by name or as a module: the command line."""


def main() -> None:
    """Run the command line; ends the process with its exit code."""
    from jigmaker.cli.main import jigmaker

    jigmaker(prog_name="jigmaker")


if __name__ == "__main__":
    main()
