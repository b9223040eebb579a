"""The owner's commands, at the machine itself.

home     the folder of a workshop is opened, its database brought up to date
serve    serve: the web app on this machine
people   people: who teaches here; new links, unlocking, forgetting
classes  classes: what classes there are; put away, taken out
keeping  backup, restore: everything in one file, and back
"""
