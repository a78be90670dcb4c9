"""What people meet: the commands and the web service.

Here belongs parsing of what is asked and showing of what comes back, one folder a subject.
May import all of `estimator`; holds no arithmetic.
"""
