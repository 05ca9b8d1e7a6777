"""python -m webapp"""

from webapp.cli import main

main()
